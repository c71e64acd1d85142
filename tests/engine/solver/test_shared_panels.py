"""Two tracking controllers on one array: held at one voltage together, split by what each draws."""

from __future__ import annotations

import numpy as np
import pytest
from support.networks import LABELS, TEXT, make_cable, make_device, make_settings, problem_of
from support.runs import ledger_of

from copperpath.plugin_api import Mount
from copperpath.record.run import make_run
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.twin import solve_twin
from copperpath.station import Station
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

HOUR = 3600.0


def two_trackers(first_ohm: float, second_ohm: float, *, joined: bool = True) -> Station:
    """A panel, two controllers on leads of their own from it, a battery each; or one controller."""
    names = ("one", "other") if joined else ("one",)
    devices = [make_device("panel", Photovoltaic, **LABELS[2], mount=Mount(40.0, 180.0))]
    cables = []
    for name, ohm in zip(names, (first_ohm, second_ohm), strict=False):
        devices += [
            make_device(name, MpptCharger, output_limit=10.0, max_input=60.0),
            make_device(f"{name}_pack", LithiumIronPhosphate, capacity=360_000.0, charge=0.5),
        ]
        cables += [
            make_cable("panel.out", f"{name}.panel", ohm),
            make_cable(f"{name}.battery", f"{name}_pack.line", 0.01),
        ]
    return Station("shared", make_settings(6.0), tuple(devices), tuple(cables), (), (), TEXT)


def test_both_executors_agree() -> None:
    problem = problem_of(two_trackers(0.05, 0.2), 1800.0)
    one, two = solve_compiled(problem), solve_twin(problem)
    np.testing.assert_allclose(one.kept, two.kept, atol=1e-8)
    np.testing.assert_allclose(one.zone_kept[0], two.zone_kept[0], atol=1e-7)
    np.testing.assert_allclose(one.offers, two.offers, atol=1e-8)


def test_together_they_are_offered_what_one_would_be_on_leads_side_by_side() -> None:
    """Two equal leads held at one voltage are one lead of half the resistance, but for the leak of
    one node more."""
    both = solve_compiled(problem_of(two_trackers(0.1, 0.1), 1800.0))
    alone = solve_compiled(problem_of(two_trackers(0.05, 0.0, joined=False), 1800.0))
    assert both.points is not None
    assert alone.points is not None
    total = both.points[:, :, OFFER_POINTS].sum(axis=1)
    np.testing.assert_allclose(total, alone.points[:, 0, OFFER_POINTS], rtol=1e-6)


@pytest.mark.parametrize(("ohms", "shares"), [((0.1, 0.1), (0.5, 0.5)), ((0.05, 0.2), (0.8, 0.2))])
def test_the_power_is_split_as_the_leads_conduct(
    ohms: tuple[float, float], shares: tuple[float, float]
) -> None:
    """But for the leak of the two ports, 2e-8 A each."""
    solution = solve_compiled(problem_of(two_trackers(*ohms), 1800.0))
    assert solution.points is not None
    most = solution.points[:, :, OFFER_POINTS]
    lit = most.sum(axis=1) > 1.0
    assert lit.any()
    np.testing.assert_allclose(most[lit, 0] / most[lit].sum(axis=1), shares[0], rtol=1e-6)


def test_a_controller_that_hangs_on_the_other_gets_an_equal_part() -> None:
    station = two_trackers(0.05, 0.05)
    chained = make_cable("one.panel", "other.panel", 0.05)
    cables = [c for c in station.cables if str(c.end) != "other.panel"]
    station = Station("chain", station.site, station.devices, (*cables, chained), (), (), TEXT)
    solution = solve_compiled(problem_of(station, 1800.0))
    assert solution.points is not None
    most = solution.points[:, :, OFFER_POINTS]
    np.testing.assert_allclose(most[:, 0], most[:, 1])


def test_the_first_law_holds() -> None:
    problem = problem_of(two_trackers(0.05, 0.2), 600.0)
    run = make_run(problem, solve_compiled(problem))
    ledger = ledger_of(run)
    assert ledger.sources > 100.0 * HOUR
    assert ledger.worst_step_share < 1e-9
