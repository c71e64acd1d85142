"""How much a result hangs on the length of the step."""

from __future__ import annotations

import numpy as np
import pytest
from support.networks import LABELS, TEXT, make_cable, make_device, make_settings, problem_of
from support.sample_devices import AMPERE_HOUR

from copperpath.plugin_api import FloatArray, Mount, Schedule
from copperpath.solver.compiled import solve_compiled
from copperpath.station import Station
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.loads.transceiver import Transceiver
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate


def radio_station(charge: float, light: float) -> Station:
    """A panel, a controller, a battery of 12 Ah and a radio, for two days."""
    devices = (
        make_device("panel", Photovoltaic, **LABELS[0], mount=Mount(0.0, 180.0)),
        make_device("regulator", MpptCharger, output_limit=5.0, max_input=30.0),
        make_device("pack", LithiumIronPhosphate, capacity=12.0 * AMPERE_HOUR, charge=charge),
        make_device(
            "rig",
            Transceiver,
            receive=0.32,
            transmit=2.1,
            transmitting=Schedule((), 0.15),
            mode="ssb",
            works=(9.0, 15.0),
        ),
    )
    cables = (
        make_cable("panel.out", "regulator.panel", 0.13),
        make_cable("regulator.battery", "pack.line", 0.01),
        make_cable("pack.line", "rig.line", 0.06),
    )
    settings = make_settings(48.0, 8.0, light, (2.0, 14.0))
    return Station("radio", settings, devices, cables, (), (), TEXT)


def charges(station: Station, step_s: float) -> FloatArray:
    problem = problem_of(station, step_s)
    solution = solve_compiled(problem)
    names = [state.name for data in problem.main for state in data.states]
    return np.asarray(solution.states[:, names.index("charge")])


@pytest.mark.parametrize(("charge", "light"), [(0.9, 1.0), (0.35, 0.15)])
def test_halving_the_step_moves_the_charge_by_less_than_a_hundredth(
    charge: float, light: float
) -> None:
    station = radio_station(charge, light)
    for step_s in (300.0, 120.0):
        coarse, fine = charges(station, step_s), charges(station, step_s / 2.0)
        assert coarse[-1] == pytest.approx(fine[-1], abs=0.01)
        assert np.min(coarse) == pytest.approx(np.min(fine), abs=0.01)
