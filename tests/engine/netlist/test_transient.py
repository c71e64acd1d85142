"""A stretch of time in the simulator: the same charge as by hand and as in our run."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.networks import TEXT, make_cable, make_device, make_settings, problem_of
from support.simulator import simulated

from copperpath.netlist.transient import transient
from copperpath.plugin_api import Mount, Schedule, Span24
from copperpath.solver.compiled import solve_compiled
from copperpath.station import Cable, Device, Station
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

AMPERE_HOUR = 3600.0


def packed(
    hours: float, devices: list[Device], cables: list[Cable], air: tuple[float, float]
) -> Station:
    """A battery of 50 Ah, 60 % charged, and what hangs on it, from six in the morning."""
    capacity = 50 * AMPERE_HOUR
    pack = make_device("pack", LithiumIronPhosphate, capacity=capacity, charge=0.6)
    settings = make_settings(hours, 6.0, air_c=air)
    return Station("packed", settings, (pack, *devices), tuple(cables), (), (), TEXT)


def test_a_load_draws_its_ampere_hours_from_the_battery(tmp_path: Path) -> None:
    lamp = make_device("lamp", Steady, current=5.0, works=(9.0, 15.0))
    station = packed(2.0, [lamp], [make_cable("pack.line", "lamp.line", 0.02)], (25.0, 25.0))
    problem = problem_of(station, 60.0)
    made = transient(problem, solve_compiled(problem))
    found = simulated(made.text, tmp_path)
    # 5 A for 2 h are 10 Ah, a fifth of the battery.
    assert found["time"][-1] == pytest.approx(7200.0)
    assert found[f"v({made.states['pack', 'charge']})"][-1] == pytest.approx(0.4, abs=1e-5)


def test_a_day_with_sun_and_hours_ends_as_our_run_does(tmp_path: Path) -> None:
    label = {"power": 60.0, "vmp": 18.2, "voc": 22.3, "isc": 3.6, "mount": Mount(30, 180)}
    evening = Schedule((Span24(64800.0, 3600.0, 1.0),), 0.0)
    devices = [
        make_device("sun", Photovoltaic, **label),
        make_device("regulator", MpptCharger, output_limit=5.0, max_input=30.0),
        make_device("lamp", Steady, power=40.0, on=evening, works=(9.0, 15.0)),
    ]
    cables = [
        make_cable("sun.out", "regulator.panel", 0.05),
        make_cable("regulator.battery", "pack.line", 0.02),
        make_cable("pack.line", "lamp.line", 0.05),
    ]
    problem = problem_of(packed(24.0, devices, cables, (4.0, 21.0)), 60.0)
    solution = solve_compiled(problem)
    made = transient(problem, solution)
    found = simulated(made.text, tmp_path)
    clock = 60.0 * np.arange(problem.steps + 1)
    charge, cell = (
        np.interp(clock, found["time"], found[f"v({made.states['pack', name]})"])
        for name in ("charge", "cell")
    )
    # A run's results are no finer than 0.003 of capacity for the length of its steps; the cell
    # follows the air with a lag, and our lag takes the air of a step's middle for all of it.
    np.testing.assert_allclose(charge, solution.states[:, 0], rtol=0.0, atol=0.003)
    np.testing.assert_allclose(cell, solution.states[:, 1], rtol=0.0, atol=0.01)
    assert np.ptp(charge) > 0.1
