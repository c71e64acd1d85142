"""The planned elimination against a general solver."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from numba import njit
from support.networks import problem_of, random_station

from copperpath.network.elimination import Elimination, plan_elimination
from copperpath.plugin_api import FloatArray
from copperpath.solver.factors import eliminate
from copperpath.solver.flatten import flatten
from copperpath.solver.problem import Problem


def draw_couplings(random: np.random.Generator, count: int) -> list[tuple[int, int]]:
    """A random sparse pattern, some nodes left alone, some pairs named twice."""
    pairs = random.integers(0, count, (int(random.integers(0, 3 * count)), 2))
    return [(int(a), int(b)) for a, b in pairs]


def draw_matrix(
    random: np.random.Generator, count: int, pairs: list[tuple[int, int]]
) -> FloatArray:
    """Unlike values both ways between coupled nodes, each diagonal above its row's sum."""
    matrix = np.zeros((count, count))
    for a, b in pairs:
        if a != b:
            matrix[a, b], matrix[b, a] = random.normal(size=2)
    np.fill_diagonal(matrix, np.abs(matrix).sum(axis=1) + random.uniform(0.1, 1.0, count))
    return matrix


def carried_out(plan: Elimination, matrix: FloatArray, right: FloatArray) -> FloatArray:
    """The plan followed literally in Python."""
    a = np.zeros(plan.entries)
    for (row, column), place in plan.position.items():
        a[place] = matrix[row, column]
    f = right.copy()
    for turn, pivot in enumerate(plan.order):
        begin, end = plan.first[turn], plan.first[turn + 1]
        size, fill = end - begin, plan.fill_first[turn]
        for i in range(size):
            factor = a[plan.lower[begin + i]] / a[pivot]
            for j in range(size):
                a[plan.fill[fill + i * size + j]] -= factor * a[plan.upper[begin + j]]
            f[plan.neighbour[begin + i]] -= factor * f[pivot]
    x = np.zeros(len(f))
    for turn in range(len(plan.order) - 1, -1, -1):
        span = slice(plan.first[turn], plan.first[turn + 1])
        pivot = plan.order[turn]
        x[pivot] = (f[pivot] - a[plan.upper[span]] @ x[plan.neighbour[span]]) / a[pivot]
    return x


@pytest.mark.parametrize("seed", range(40))
def test_the_plan_solves_what_a_general_solver_solves(seed: int) -> None:
    random = np.random.default_rng(seed)
    count = int(random.integers(1, 40))
    pairs = draw_couplings(random, count)
    matrix, right = draw_matrix(random, count, pairs), random.normal(size=count)
    plan = plan_elimination(count, pairs)
    x = carried_out(plan, matrix, right)
    np.testing.assert_allclose(x, np.linalg.solve(matrix, right), rtol=1e-10, atol=1e-12)


@pytest.mark.parametrize("seed", range(40))
def test_every_node_is_eliminated_once_and_positions_are_unique(seed: int) -> None:
    random = np.random.default_rng([seed, 7])
    count = int(random.integers(1, 40))
    plan = plan_elimination(count, draw_couplings(random, count))
    assert sorted(plan.order.tolist()) == list(range(count))
    assert sorted(plan.position.values()) == list(range(plan.entries))
    assert all(plan.position[(node, node)] == node for node in range(count))


@njit
def eliminated(c: Any, w: Any) -> None:
    """The compiled elimination, which compiled code alone can call."""
    eliminate(c, w)


@pytest.mark.parametrize("seed", [3, 8, 21])
def test_the_compiled_elimination_follows_the_plan(seed: int) -> None:
    problem: Problem = problem_of(random_station(seed, 2), 300.0)
    flat = flatten(problem.network.main, problem.main, problem.steps)
    plan, count = problem.network.main.elimination, flat.arrays.nodes
    random = np.random.default_rng(seed)
    matrix = draw_matrix(random, count, list(plan.position))
    right = random.normal(size=count)
    buffers = flat.workspace()
    for (row, column), place in plan.position.items():
        buffers.matrix[place] = matrix[row, column]
    buffers.rest[:] = right
    eliminated(flat.arrays, buffers)
    expected = np.linalg.solve(matrix, right)
    np.testing.assert_allclose(buffers.step, expected, rtol=1e-10, atol=1e-12)


def test_a_star_is_eliminated_from_its_tips_without_fill() -> None:
    count = 50
    plan = plan_elimination(count, [(0, tip) for tip in range(1, count)])
    assert plan.entries == count + 2 * (count - 1)
    assert len(plan.fill) <= count
