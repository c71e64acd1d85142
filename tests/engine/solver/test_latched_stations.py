"""Stations of everything that switches by itself: solved, alike in both executors, with a bounded
amount of work, and no energy lost."""

from __future__ import annotations

import numpy as np
import pytest
from support.latched_networks import latched_station
from support.networks import chattering_station, problem_of, random_station
from support.runs import ledger_of

from copperpath.record.run import make_run
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Outcome, Solution
from copperpath.solver.twin import solve_twin
from copperpath.station import Station

TOLERANCE = 1e-8
"""Volts, and states."""
MOST_TURNS = 4000
"""Of one column: a search and a settling of at most 250 turns each, and as many again for each of
up to seven loads that are given up."""
STEP_BOUND = 1e-9
EVERY = 500


def drawn(number: int, steps: int) -> Station:
    """Two fifths latched, two fifths chattering, the rest stars of everything."""
    kind = number % 5
    if kind < 2:
        return latched_station(number, steps)
    if kind < 4:
        return chattering_station(number, steps, 300.0)
    return random_station(number, steps)


def assert_alike(problem: Problem, one: Solution, other: Solution) -> None:
    # A search of 24 turns and one of 25 end at one point; only the second counts as a fresh start.
    fresh_or_not = {Outcome.RESTARTED: Outcome.SOLVED}
    ends = [[fresh_or_not.get(o, o) for o in s.outcome.ravel().tolist()] for s in (one, other)]
    assert ends[0] == ends[1]
    np.testing.assert_allclose(one.kept, other.kept, rtol=0.0, atol=TOLERANCE)
    np.testing.assert_allclose(one.states, other.states, rtol=0.0, atol=TOLERANCE)
    for a, b in zip(one.zone_kept, other.zone_kept, strict=True):
        np.testing.assert_allclose(a, b, rtol=0.0, atol=TOLERANCE)
    np.testing.assert_array_equal(one.refusals["slot"], other.refusals["slot"])


def assert_sound(number: int, steps: int) -> None:
    problem = problem_of(drawn(number, steps), 300.0)
    solution = solve_compiled(problem)
    assert not (solution.outcome == Outcome.NOT_SOLVED).any()
    assert solution.iterations.max() <= MOST_TURNS
    assert ledger_of(make_run(problem, solution)).worst_step_share < STEP_BOUND
    assert_alike(problem, solution, solve_twin(problem))


@pytest.mark.parametrize("number", range(50))
def test_both_executors_agree_on_what_switches_by_itself(number: int) -> None:
    assert_sound(number, 12)


@pytest.mark.long
@pytest.mark.parametrize("number", range(EVERY))
def test_both_executors_agree_on_five_hundred(number: int) -> None:
    assert_sound(number, 24)


@pytest.mark.parametrize("number", range(1000, 1150))
def test_the_first_law_holds_on_what_switches_by_itself(number: int) -> None:
    problem = problem_of(latched_station(number, 48), 300.0)
    solution = solve_compiled(problem)
    assert not (solution.outcome == Outcome.NOT_SOLVED).any()
    assert ledger_of(make_run(problem, solution)).worst_step_share < STEP_BOUND


def test_everything_that_can_switch_does_somewhere() -> None:
    """Each latch of the models in these stations is set in one of them, and clear in another."""
    seen: dict[tuple[str, str], set[float]] = {}
    for number in range(150):
        problem = problem_of(latched_station(number, 48), 300.0)
        states = solve_compiled(problem).states
        place = 0
        for data in problem.main:
            for state in data.states:
                if hasattr(state, "judged"):
                    key = (data.slot.device.model.name, state.name)
                    seen.setdefault(key, set()).update(np.unique(states[:, place]).tolist())
                place += 1
    never = [key for key, values in seen.items() if values != {0.0, 1.0}]
    assert never == []
