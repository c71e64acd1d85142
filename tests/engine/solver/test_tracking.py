"""What a tracking controller gets out of its panels, against sweeps over other equations."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from support.equations import drives_of, swept_power
from support.hard_models import Stairs
from support.networks import (
    LABELS,
    TEXT,
    lead_ohm,
    make_cable,
    make_device,
    make_settings,
    problem_of,
)
from support.offer_tables import full_tables
from support.sample_devices import AMPERE_HOUR

from copperpath.plugin_api import FloatArray, Model, Mount
from copperpath.solver.compiled import prepare, solve_compiled
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.problem import Problem
from copperpath.station import Device, Station
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

THIN_OHM = lead_ohm(15.0, 0.75)
FIRST, SECOND = "flat", "steep"


def panel(name: str, label: int, mount: Mount, series: float = 1.0) -> Device:
    return make_device(name, Photovoltaic, **LABELS[label], mount=mount, series=series)


def station_of(panels: list[Device], light: float, starts_at: float, ohm: float) -> Station:
    """Panels in parallel, each on its own lead, and a battery that takes all they give."""
    devices = (
        *panels,
        make_device("regulator", MpptCharger, output_limit=50.0, max_input=100.0, idle=0.0),
        make_device("pack", LithiumIronPhosphate, capacity=200.0 * AMPERE_HOUR, charge=0.4),
    )
    cables = (
        *(make_cable(f"{device.name}.out", "regulator.panel", ohm) for device in panels),
        make_cable("regulator.battery", "pack.line", 0.005),
    )
    settings = replace(make_settings(6.0, starts_at, light), lasts_s=6 * 3600.0)
    return Station("two panels", settings, devices, cables, (), (), TEXT)


@cache
def two_panels(light: float, starts_at: float = 8.0) -> Problem:
    pair = [panel(FIRST, 0, Mount(0.0, 180.0)), panel(SECOND, 1, Mount(60.0, 120.0))]
    return problem_of(station_of(pair, light, starts_at, THIN_OHM), 1800.0)


def swept(problem: Problem, step: int, ohm: float, volts: FloatArray) -> FloatArray:
    """Power at the controller's terminals at each of the volts, by the other equations [W]."""
    panels = []
    for device in problem.station.devices:
        if device.model is Photovoltaic:
            drives = drives_of(device, problem.site)
            panels.append(({name: float(row[step]) for name, row in drives.items()}, ohm))
    return swept_power(panels, volts)


@pytest.mark.parametrize("light", [1.0, 0.5, 0.2, 0.05, 0.01])
def test_two_unlike_panels_on_15_m_of_thin_lead_give_what_a_sweep_finds(light: float) -> None:
    problem = two_panels(light)
    solution = solve_compiled(problem)
    seeker = next(k for k, data in enumerate(problem.main) if data.slot.seeks == 0)
    port = problem.network.zones[0].ports[0]
    for step in range(problem.steps):
        delivered = solution.watts[step, 0, seeker]
        floor = solution.volts[step, 0, problem.network.main.nodes.index("regulator.battery")]
        grid = np.linspace(floor + 1.0, solution.tops[0][step], 4001)
        most = swept(problem, step, THIN_OHM, grid).max()
        if step > 0:  # it sleeps until the end of the first step
            assert delivered == pytest.approx(most, rel=1e-3), step
        # The equations of the sweep have no leak, which takes some microwatts.
        here = swept(problem, step, THIN_OHM, solution.zone_volts[0][step, :, port])
        assert here[0] == pytest.approx(delivered, rel=1e-6, abs=1e-5)


@pytest.mark.parametrize("light", [1.0, 0.1])
def test_the_offer_above_a_floor_is_what_a_sweep_finds_there(light: float) -> None:
    problem = two_panels(light)
    prepared, points = prepare(problem), full_tables(problem)
    for step in range(0, problem.steps, 3):
        table, top = points[step, 0], prepared.tops[0][step]
        volts, watts = table[:OFFER_POINTS], table[OFFER_POINTS:]
        most = watts[0]
        for floor in np.linspace(0.5 * top, 0.999 * top, 23):
            sweep = swept(problem, step, THIN_OHM, np.linspace(floor, top, 2001)).max()
            offered = np.interp(floor, volts, watts)
            # Straight lines between the points of the table lie a little under the curve.
            assert -5e-3 * most < offered - sweep < 1e-6 * most


def test_the_offer_never_rises_with_the_floor() -> None:
    points = full_tables(two_panels(0.5))
    assert (np.diff(points[:, :, :OFFER_POINTS]) >= 0.0).all()
    assert (np.diff(points[:, :, OFFER_POINTS:]) <= 0.0).all()


def test_panels_in_series_beside_single_ones_give_what_a_sweep_finds() -> None:
    pair = [panel(FIRST, 0, Mount(0.0, 180.0), series=2.0), panel(SECOND, 1, Mount(0.0, 180.0))]
    problem = problem_of(station_of(pair, 1.0, 9.0, THIN_OHM), 1800.0)
    prepared = prepare(problem)
    for step in range(problem.steps):
        grid = np.linspace(5.0, prepared.tops[0][step], 6001)
        most = swept(problem, step, THIN_OHM, grid).max()
        assert prepared.supplies.points[step, 0, OFFER_POINTS] == pytest.approx(most, rel=1e-3)


@pytest.mark.parametrize("less", [0.8, 1.2, 1.6, 2.0, 2.4, 2.8])
def test_the_higher_of_two_humps_is_found(less: float) -> None:
    values = {"first": 17.0, "more": 3.6, "second": 34.0, "less": less, "slope": 1.0}
    model: type[Model] = Stairs
    station = station_of([make_device("stairs", model, **values)], 1.0, 9.0, 0.3)
    prepared = prepare(problem_of(replace(station, site=make_settings(0.5)), 900.0))
    junction = np.linspace(0.1, 34.0, 200_001)
    amps = np.clip((17.0 - junction) / 1.0, 0.0, 3.6 - less) + np.clip(34.0 - junction, 0.0, less)
    powers = amps * (junction - 0.3 * amps)
    table = prepared.supplies.points[0, 0]
    assert table[OFFER_POINTS] == pytest.approx(powers.max(), rel=1e-3)
    # A floor above the lower hump leaves the upper one, whose sharp corner may fall between two
    # points of the table.
    upper = powers[junction - 0.3 * amps >= 20.0].max()
    offered = np.interp(20.0, table[:OFFER_POINTS], table[OFFER_POINTS:])
    assert offered == pytest.approx(upper, rel=3e-2)
    assert offered <= upper * (1.0 + 1e-6)
