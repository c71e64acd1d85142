"""The compiled loop against the numpy twin, which shares nothing with it but the laws' text."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from support.networks import chattering_station, problem_of, random_station
from support.offer_tables import full_tables

from copperpath.pipeline import load
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Outcome, Solution
from copperpath.solver.twin import solve_twin

TOLERANCE = 1e-8
"""V, W and states; what is seen is a hundredth of it."""

LENGTHS_S = (60.0, 300.0, 600.0, 1800.0)
EXAMPLES = sorted((Path(__file__).parents[3] / "docs" / "stations").rglob("*.station"))
"""Every example is tried."""


def assert_alike(problem: Problem, one: Solution, other: Solution) -> None:
    """The same found; volts, watts, offers, full tables and states within the tolerance.

    Whether a point was found from the step before or from a fresh start may differ where the
    number of iterations stands at the limit; the point may not.
    """
    for outcome in (Outcome.NOT_SOLVED, Outcome.SKIPPED):
        np.testing.assert_array_equal(one.outcome == outcome, other.outcome == outcome)
    pairs = [
        (one.volts, other.volts),
        (one.watts, other.watts),
        (one.states, other.states),
        (one.offers, other.offers),
        (full_tables(problem), other.points),
        *zip(one.tops, other.tops, strict=True),
        *zip(one.zone_volts, other.zone_volts, strict=True),
    ]
    for a, b in pairs:
        np.testing.assert_allclose(a, b, rtol=0.0, atol=TOLERANCE)


def assert_all_solved(solution: Solution) -> None:
    assert Outcome.NOT_SOLVED not in solution.outcome


@pytest.mark.parametrize("seed", range(120))
def test_both_executors_agree_on_random_stations(seed: int) -> None:
    step_s = LENGTHS_S[seed % len(LENGTHS_S)]
    problem = problem_of(random_station(seed, 6, step_s), step_s)
    solution = solve_compiled(problem)
    assert_all_solved(solution)
    assert_alike(problem, solution, solve_twin(problem))


@pytest.mark.parametrize("seed", range(80))
def test_both_executors_agree_on_stations_that_chatter(seed: int) -> None:
    problem = problem_of(chattering_station(seed, 24, 300.0), 300.0)
    solution = solve_compiled(problem)
    assert_all_solved(solution)
    assert_alike(problem, solution, solve_twin(problem))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1000, 1100))
def test_both_executors_agree_over_a_whole_day(seed: int) -> None:
    make = chattering_station if seed % 3 == 0 else random_station
    problem = problem_of(make(seed, 288, 300.0), 300.0)
    solution = solve_compiled(problem)
    assert_all_solved(solution)
    assert_alike(problem, solution, solve_twin(problem))


@pytest.mark.long
def test_rounding_does_not_choose_between_two_stable_points() -> None:
    # A converter that starves has two stable points here; searching from a flat start for many
    # turns, the executors once ended at different ones.
    problem = problem_of(random_station(62, 30), 300.0)
    assert_alike(problem, solve_compiled(problem), solve_twin(problem))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_both_executors_agree_on_the_examples(path: Path) -> None:
    station = load(path).station
    assert station is not None
    # The twin is slow: the first day only, in half hours.
    settings = replace(station.site, lasts_s=24.0 * 3600.0)
    problem = problem_of(replace(station, site=settings), 1800.0)
    solution = solve_compiled(problem)
    assert_all_solved(solution)
    assert_alike(problem, solution, solve_twin(problem))


def test_the_stations_meant_to_chatter_do() -> None:
    changes = []
    for seed in range(80):
        problem = problem_of(chattering_station(seed, 24, 300.0), 300.0)
        states = solve_compiled(problem).states
        names = [state.name for data in problem.main for state in data.states]
        empty = states[:, names.index("empty")]
        changes.append(int(np.abs(np.diff(empty)).sum()))
    assert sum(count >= 2 for count in changes) >= 20
    assert max(changes) >= 6


@pytest.mark.parametrize("seed", [3, 11])
def test_a_run_in_two_pieces_equals_one_run(seed: int) -> None:
    station = random_station(seed, 24)
    at_once = solve_compiled(problem_of(station, 300.0))
    first = solve_compiled(problem_of(random_station(seed, 12), 300.0))
    later = replace(station.site, starts=station.site.starts + timedelta(hours=1), lasts_s=3600.0)
    second = solve_compiled(problem_of(replace(station, site=later), 300.0), first.carry)
    for a, b in ((first, slice(0, 12)), (second, slice(12, 24))):
        np.testing.assert_allclose(a.volts, at_once.volts[b], rtol=0.0, atol=TOLERANCE)
        np.testing.assert_allclose(a.states[:-1], at_once.states[b], rtol=0.0, atol=TOLERANCE)
    np.testing.assert_allclose(second.carry.states, at_once.carry.states, rtol=0.0, atol=TOLERANCE)


@pytest.mark.parametrize("seed", [3, 11])
def test_a_run_repeated_gives_the_same_bits(seed: int) -> None:
    problem = problem_of(random_station(seed, 24), 300.0)
    one, other = solve_compiled(problem), solve_compiled(problem)
    np.testing.assert_array_equal(one.volts, other.volts)
    np.testing.assert_array_equal(one.states, other.states)
