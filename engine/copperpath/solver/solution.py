"""What an executor returns: voltages, states and outcomes, before anything is derived."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.problem import Problem


class Outcome(IntEnum):
    """How one step and column ended."""

    SOLVED = 0
    RESTARTED = 1
    NOT_SOLVED = 2
    SKIPPED = 3

    @property
    def words(self) -> str:
        """For people."""
        return {
            Outcome.SOLVED: "solved",
            Outcome.RESTARTED: "solved from a fresh start",
            Outcome.NOT_SOLVED: "not solved",
            Outcome.SKIPPED: "not needed (weight 0)",
        }[self]


@dataclass(frozen=True, slots=True)
class Carry:
    """What one piece of time hands to the next: states (state,), node volts (column, node), how
    many steps each latch's signals have held (state, 2)."""

    states: FloatArray
    volts: FloatArray
    held: np.ndarray


@dataclass(frozen=True, slots=True)
class Solution:
    """Operating points over time; time is the FIRST axis here, as the loop writes it.

    Attributes
    ----------
    volts : ndarray (time, column, node) [V]
        Main circuit; NaN where a column was not solved.
    watts : ndarray (time, column, slot) [W]
        Taken at the seeking terminal of each slot (0 for the others).
    states : ndarray (time + 1, state)
        At the start of each step, and at the end of the last.
    outcome, iterations : ndarray (time, column)
    points : ndarray (time, zone, 2 * OFFER_POINTS)
        Tables of most power: rising voltages, then falling powers.
    tops : tuple of ndarray (time,) [V]
        Open-circuit voltage of each zone, 0 when dark.
    zone_volts : tuple of ndarray (time, column, node) [V]
        Each zone's nodes at the power that was taken.
    executor : str
        "compiled loop" or "numpy twin".
    carry : Carry
    """

    volts: FloatArray
    watts: FloatArray
    states: FloatArray
    outcome: np.ndarray
    iterations: np.ndarray
    points: FloatArray
    tops: tuple[FloatArray, ...]
    zone_volts: tuple[FloatArray, ...]
    executor: str
    carry: Carry


def frozen(solution: Solution) -> Solution:
    """The same with every array read-only."""
    for array in (
        solution.volts,
        solution.watts,
        solution.states,
        solution.outcome,
        solution.iterations,
        solution.points,
        *solution.tops,
        *solution.zone_volts,
    ):
        array.flags.writeable = False
    return replace(solution)


def first_carry(problem: Problem) -> Carry:
    """States as the station starts, every node at the flat start."""
    states = [value for data in problem.main for value in data.initial]
    columns = problem.columns.weights.shape[1]
    nodes = len(problem.network.main.nodes)
    return Carry(
        np.array(states, dtype=np.float64),
        np.full((columns, nodes), problem.start_v),
        np.zeros((len(states), 2), dtype=np.int64),
    )
