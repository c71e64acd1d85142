"""Cases side by side come to what each comes to alone, in pieces or whole."""

from __future__ import annotations

import numpy as np
import pytest
from support.networks import problem_of, random_station
from support.runs import HERON_BOG, station_from_file

from copperpath.solver import compiled
from copperpath.solver.batch import solve_batch, solve_each
from copperpath.solver.solution import Solution


def same(one: Solution, other: Solution) -> bool:
    """Every array equal to the last bit."""
    pairs = [
        (one.kept, other.kept),
        (one.states, other.states),
        (one.watts, other.watts),
        (one.outcome, other.outcome),
        (one.carry.volts, other.carry.volts),
        *zip(one.zone_kept, other.zone_kept, strict=True),
        *zip(one.tops, other.tops, strict=True),
    ]
    return all(np.array_equal(a, b, equal_nan=True) for a, b in pairs)


def test_each_case_of_a_batch_is_as_alone_whatever_its_network() -> None:
    problems = [problem_of(random_station(seed, 12), 300.0) for seed in range(950, 962)]
    together = solve_batch(problems, threads=2)
    alone = [compiled.solve_compiled(problem, threads=1) for problem in problems]
    assert all(same(one, other) for one, other in zip(together, alone, strict=True))


def test_what_is_made_of_each_comes_back_in_order() -> None:
    problems = [problem_of(random_station(seed, 4), 300.0) for seed in range(950, 956)]
    titles = solve_each(problems, lambda problem, _: problem.station.title, threads=2)
    assert titles == [problem.station.title for problem in problems]


@pytest.mark.parametrize("threads", [1, 2, 3])
def test_a_run_in_pieces_is_the_run_in_one(threads: int, monkeypatch: pytest.MonkeyPatch) -> None:
    problem = problem_of(station_from_file(HERON_BOG), 300.0)
    whole = compiled.solve_compiled(problem)
    monkeypatch.setattr(compiled, "PIECE_STEPS", 100)
    in_pieces = compiled.solve_compiled(problem, threads=threads)
    assert len(in_pieces.refusals) == len(whole.refusals)
    np.testing.assert_allclose(in_pieces.kept, whole.kept, atol=1e-9)
    np.testing.assert_allclose(in_pieces.states, whole.states, atol=1e-12)
    np.testing.assert_allclose(in_pieces.zone_kept[0], whole.zone_kept[0], atol=1e-6)
