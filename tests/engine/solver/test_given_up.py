"""Loads that ask more than can be had: which are given up, and what is said of them."""

from __future__ import annotations

import numpy as np
import pytest
from support.hard_models import Cell, Supply
from support.networks import TEXT, make_cable, make_device, make_settings, problem_of
from support.runs import ledger_of, station_from_text
from support.small_station import LAMP, LAMP_LEAD, run_text, small_text

from copperpath.network.checks import check_network
from copperpath.plugin_api import Schedule
from copperpath.record.run import Run, make_run
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.solution import Outcome
from copperpath.solver.twin import solve_twin
from copperpath.station import Device, Station
from copperpath.study.given_up import shortfalls
from copperpath_plugins.loads.steady import Steady

REST_V, INNER_OHM = 13.0, 0.05
HEATER = (
    "load heater : steady { power 150 W; works 10.5 V .. 15 V }\n"
    "cable pack -> heater { length 10 m; wire 0.75 mm2; fuse 20 A at pack }\n"
)
SOLVERS = [pytest.param(solve_compiled, id="compiled"), pytest.param(solve_twin, id="twin")]


def lamp(name: str, watts: float, priority: int | None = None, lowest: float = 10.0) -> Device:
    """A load that holds its power down to `lowest` volts."""
    device = make_device(name, Steady, power=watts, on=Schedule((), 1.0), works=(lowest, 15.0))
    return Device(
        device.name,
        device.kind,
        device.model,
        device.values,
        device.given,
        device.mass_kg,
        priority,
        device.span,
    )


def fed(*lines: tuple[Device, float], ohm: float = INNER_OHM) -> Station:
    """Loads, each on a line of so many ohms, on one cell of 13 V."""
    pack = make_device("pack", Cell, rest=REST_V, ohm=ohm, refuses=0.0)
    cables = tuple(make_cable("pack.line", f"{load.name}.line", line) for load, line in lines)
    devices = (pack, *(load for load, _ in lines))
    return Station("fed", make_settings(0.25), devices, cables, (), (), TEXT)


def solved_by(solve, station: Station) -> Run:
    problem = problem_of(station, 300.0)
    return make_run(problem, solve(problem))


def given_up(run: Run, step: int = 0) -> set[str]:
    """Names of the loads given up at a step."""
    rows = run.solution.refusals
    return {run.problem.main[s].slot.device.name for s in rows["slot"][rows["step"] == step]}


@pytest.mark.parametrize("solve", SOLVERS)
def test_a_load_that_its_line_can_carry_is_not_given_up(solve) -> None:
    run = solved_by(solve, fed((lamp("one", 20.0), 0.2)))
    assert given_up(run) == set()
    assert (run.solution.outcome == Outcome.SOLVED).all()


@pytest.mark.parametrize("solve", SOLVERS)
def test_a_load_that_asks_more_than_its_line_carries_is_given_up_and_the_rest_is_served(
    solve,
) -> None:
    # 13 V behind 1.05 ohm give at most 13^2 / 4.2 = 40 W, and 30 W at 10 V; 60 W cannot be.
    run = solved_by(solve, fed((lamp("greedy", 60.0), 1.0), (lamp("modest", 5.0), 0.1)))
    assert given_up(run) == {"greedy"}
    assert (run.solution.outcome == Outcome.GAVE_UP).all()
    modest = run.problem.station.device("modest")
    assert run.terminal_volts(modest).min() > 12.5
    assert run.flows["greedy"].amps[0].max() == 0.0


@pytest.mark.parametrize("solve", SOLVERS)
def test_the_volts_of_a_load_that_was_given_up_are_those_at_which_it_failed(solve) -> None:
    run = solved_by(solve, fed((lamp("greedy", 60.0), 1.0)))
    volts = run.terminal_volts(run.problem.station.device("greedy"))
    assert volts.max() < 10.0


@pytest.mark.parametrize("solve", SOLVERS)
@pytest.mark.parametrize(
    ("priorities", "goes"),
    [((1, 2), "two"), ((2, 1), "one"), ((1, None), "two"), ((None, 1), "one")],
)
def test_of_two_loads_that_cannot_both_be_served_the_less_important_is_given_up(
    priorities: tuple[int | None, int | None], goes: str, solve
) -> None:
    # 0.5 ohm inside: 13 V, 30 W or more at 10 V are too much for two lamps of 40 W.
    loads = [
        (lamp(name, 40.0, priority), 0.01)
        for name, priority in zip(("one", "two"), priorities, strict=True)
    ]
    assert given_up(solved_by(solve, fed(*loads, ohm=0.5))) == {goes}


@pytest.mark.parametrize("solve", SOLVERS)
def test_a_load_given_up_for_anothers_fault_is_taken_back(solve) -> None:
    """The important one asks what cannot be had and drags the other down with it; once it is
    given up the other is served."""
    run = solved_by(
        solve, fed((lamp("greedy", 400.0, 1), 0.01), (lamp("modest", 5.0), 0.01), ohm=0.3)
    )
    assert given_up(run) == {"greedy"}


@pytest.mark.parametrize("solve", SOLVERS)
def test_the_first_law_holds_with_loads_given_up(solve) -> None:
    run = solved_by(solve, station_from_text(small_text(HEATER + LAMP + LAMP_LEAD, lasts="1 h")))
    assert given_up(run) == {"heater"}
    assert ledger_of(run).worst_step_share < 1e-9


@pytest.mark.parametrize("line", [0.5, 1.0, 2.0, 4.0])
def test_the_most_that_could_be_had_is_that_of_a_voltage_behind_a_resistance(line: float) -> None:
    """P = v (E - v) / R, at E / 2 or at the least voltage, whichever is higher."""
    run = solved_by(solve_compiled, fed((lamp("greedy", 120.0, lowest=5.0), line)))
    (found,) = shortfalls(run)
    ohm = INNER_OHM + line
    best = max(REST_V / 2.0, 5.0)
    assert found.asked_w == pytest.approx(120.0)
    assert found.most_w == pytest.approx(best * (REST_V - best) / ohm, rel=1e-5)
    assert found.most_v == pytest.approx(best, abs=0.02)


def test_where_even_the_open_line_is_too_low_nothing_can_be_had() -> None:
    station = fed((lamp("picky", 5.0, lowest=13.5), 0.1))
    (found,) = shortfalls(solved_by(solve_compiled, station))
    assert found.most_w == 0.0


def test_a_sun_that_gives_less_than_a_load_asks_without_a_battery_gives_the_load_up() -> None:
    """A supply limited to 1 A at 14 V stands for the sun: 14 W at the most."""
    supply = make_device("sun", Supply, set=14.0, droop=0.01, limit=1.0)
    load = lamp("lamp", 20.0)
    cable = make_cable("sun.line", "lamp.line", 0.01)
    station = Station("open", make_settings(0.25), (supply, load), (cable,), (), (), TEXT)
    run = solved_by(solve_compiled, station)
    assert given_up(run) == {"lamp"}
    (found,) = shortfalls(run)
    assert found.most_w == pytest.approx(14.0 - 0.01 - 0.01, abs=0.05)


def test_a_floating_load_is_no_reason_to_fail() -> None:
    station = fed((lamp("one", 5.0), 0.1))
    floating = lamp("island", 5.0)
    station = Station(
        "floating", station.site, (*station.devices, floating), station.cables, (), (), TEXT
    )
    run = solved_by(solve_compiled, station)
    assert not (run.solution.outcome == Outcome.NOT_SOLVED).any()
    assert np.abs(run.terminal_volts(floating)).max() < 1e-6
    rules = {finding.rule for finding in check_network(station)}
    assert "load-without-source" in rules


def test_the_screen_names_load_time_what_was_asked_and_what_could_be_had() -> None:
    record = run_text(small_text(HEATER, lasts="1 h"))
    (finding,) = (f for f in record.findings if f.rule == "asks-more-than-can-be-had")
    assert finding.subject == "heater"
    assert "asks 150 W at 10.5 V or more, but the most to be had there is" in finding.message
    assert "is short for 1 h in all" in finding.message
