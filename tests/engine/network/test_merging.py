"""Passive nodes are merged: voltages and currents are those of the whole circuit."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.networks import problem_of, random_station
from support.wider_networks import wider_station

from copperpath.network.circuit import Branch
from copperpath.network.merging import merge
from copperpath.solver.compiled import solve_compiled
from copperpath.station import Station


def row(*ohms: float) -> list[Branch]:
    """Branches one behind the other from node 0 on."""
    return [Branch("a", True, k, k + 1, ohm) for k, ohm in enumerate(ohms)]


def test_a_row_of_joints_becomes_one_resistance() -> None:
    merged = merge(4, row(0.1, 0.2, 0.7), kept=(0, 3))
    assert merged.nodes == (0, 3)
    assert merged.ohm.tolist() == pytest.approx([1.0])
    assert merged.share.tolist() == pytest.approx([0.0, 0.1, 0.3, 0.0])


def test_an_arm_that_leads_nowhere_stands_at_the_voltage_of_its_root() -> None:
    merged = merge(4, row(0.1, 0.2, 0.3), kept=(0,))
    assert merged.nodes == (0,)
    assert len(merged.ohm) == 0
    assert merged.first.tolist() == [0, 0, 0, 0]
    assert merged.across_share.tolist() == [0.0, 0.0, 0.0]


def test_a_loop_that_leaves_a_node_and_comes_back_carries_nothing() -> None:
    branches = [*row(0.1, 0.2), Branch("a", True, 2, 0, 0.3)]
    merged = merge(3, branches, kept=(0,))
    assert merged.nodes == (0,)
    assert merged.across_share.tolist() == [0.0, 0.0, 0.0]


def test_a_passive_hub_of_three_stays() -> None:
    branches = [Branch("a", True, 3, end, 0.1) for end in (0, 1, 2)]
    assert merge(4, branches, kept=(0, 1, 2)).nodes == (0, 1, 2, 3)


def whole_solution(count: int, branches: list[Branch], held: dict[int, float]) -> np.ndarray:
    """Voltages of all nodes with some held, by the plain node equations; islands at nothing."""
    matrix, right = np.zeros((count, count)), np.zeros(count)
    for branch in branches:
        g = 1.0 / branch.ohm
        matrix[[branch.start, branch.end], [branch.start, branch.end]] += g
        matrix[[branch.start, branch.end], [branch.end, branch.start]] -= g
    for node, volts in held.items():
        matrix[node], right[node] = 0.0, volts
        matrix[node, node] = 1.0
    return np.asarray(np.linalg.lstsq(matrix, right, rcond=None)[0])


@st.composite
def circuits(draw: st.DrawFn) -> tuple[int, list[Branch], dict[int, float]]:
    """A connected circuit with some nodes held."""
    count = draw(st.integers(2, 14))
    ohm = st.floats(0.01, 10.0)
    branches = [
        Branch("a", True, draw(st.integers(0, node - 1)), node, draw(ohm))
        for node in range(1, count)
    ]
    for _ in range(draw(st.integers(0, 4))):
        one, other = draw(st.integers(0, count - 1)), draw(st.integers(0, count - 1))
        if one != other:
            branches.append(Branch("a", True, one, other, draw(ohm)))
    nodes = draw(st.sets(st.integers(0, count - 1), min_size=1, max_size=count))
    return count, branches, {node: draw(st.floats(0.0, 15.0)) for node in sorted(nodes)}


@given(circuits())
def test_voltages_of_the_merged_circuit_are_those_of_the_whole(
    circuit: tuple[int, list[Branch], dict[int, float]],
) -> None:
    count, branches, held = circuit
    merged = merge(count, branches, kept=held)
    whole = whole_solution(count, branches, held)
    solved = whole[list(merged.nodes)]
    spread = solved[merged.first] + merged.share * (solved[merged.second] - solved[merged.first])
    np.testing.assert_allclose(spread, whole, atol=1e-8)
    across = merged.across_share * (solved[merged.across_first] - solved[merged.across_second])
    drops = [whole[branch.start] - whole[branch.end] for branch in branches]
    np.testing.assert_allclose(across, drops, atol=1e-8)


@pytest.mark.parametrize("seed", range(900, 906))
@pytest.mark.parametrize("draw", [random_station, wider_station])
def test_currents_meet_at_every_node_of_a_station(
    draw: Callable[[int, int], Station], seed: int
) -> None:
    """At merged nodes nothing but the branches' currents meet, so these add up to nothing."""
    problem = problem_of(draw(seed, 4), 600.0)
    solution = solve_compiled(problem)
    circuit = problem.network.main
    total = np.zeros((*solution.outcome.shape, len(circuit.nodes)))
    for place, branch in enumerate(circuit.branches):
        amps = circuit.across(solution.kept, place) / branch.ohm
        total[:, :, branch.start] -= amps
        total[:, :, branch.end] += amps
    merged_away = [k for k in range(len(circuit.nodes)) if k not in circuit.merged.nodes]
    assert merged_away
    assert np.nanmax(np.abs(total[:, :, merged_away]), initial=0.0) < 1e-9
