"""What an executor returns: voltages, states and outcomes, before anything is derived."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np

from copperpath.network.circuit import Network
from copperpath.plugin_api import FloatArray
from copperpath.solver.problem import Problem


class Outcome(IntEnum):
    """How one step and column ended."""

    SOLVED = 0
    RESTARTED = 1
    NOT_SOLVED = 2
    SKIPPED = 3
    GAVE_UP = 4

    @property
    def words(self) -> str:
        """For people."""
        return {
            Outcome.SOLVED: "solved",
            Outcome.RESTARTED: "solved from a fresh start",
            Outcome.NOT_SOLVED: "not solved",
            Outcome.SKIPPED: "not needed (weight 0)",
            Outcome.GAVE_UP: "solved with a load given up",
        }[self]


@dataclass(frozen=True, slots=True)
class Carry:
    """What one piece of time hands to the next: states (state,), volts (column, solved node), for
    how many seconds each latch's signals have held (state, 2)."""

    states: FloatArray
    volts: FloatArray
    held: FloatArray


REFUSAL = np.dtype(
    [("step", np.int64), ("column", np.int64), ("slot", np.int64), ("asked_v", np.float64)]
)
"""A load given up for a step in a column: the slot of the main circuit, and the voltage [V] at
which it stood before (0 where no point was found with it)."""


@dataclass(frozen=True, slots=True)
class Solution:
    """Operating points over time; time is the FIRST axis here, as the loop writes it.

    Attributes
    ----------
    network : Network
    kept : ndarray (time, column, solved node) [V]
        Main circuit; NaN where a column was not solved.
    watts : ndarray (time, column, slot) [W]
        Taken at the seeking terminal of each slot (0 for the others).
    states : ndarray (time + 1, state)
        At the start of each step, and at the end of the last.
    outcome, iterations : ndarray (time, column)
    refusals : ndarray of REFUSAL
        Loads that were given up, by step.
    offers : ndarray (time, column, seeker) [W]
        Most power at or above the floor at the solution.
    points : ndarray (time, seeker, 2 * OFFER_POINTS) or None
        Tables of most power: rising voltages, then falling powers; not kept for long runs. The
        compiled loop leaves straight lines above the best voltage where no floor lies there.
    tops : tuple of ndarray (time,) [V]
        Open-circuit voltage of each zone, 0 when dark.
    zone_kept : tuple of ndarray (time, column, solved node) [V]
        Each zone's nodes at the power that was taken.
    executor : str
        "compiled loop" or "numpy twin".
    carry : Carry
    """

    network: Network
    kept: FloatArray
    watts: FloatArray
    states: FloatArray
    outcome: np.ndarray
    iterations: np.ndarray
    refusals: np.ndarray
    offers: FloatArray
    points: FloatArray | None
    tops: tuple[FloatArray, ...]
    zone_kept: tuple[FloatArray, ...]
    executor: str
    carry: Carry

    @property
    def volts(self) -> FloatArray:
        """Voltages (time, column, node) of all nodes of the main circuit; made at each call."""
        return self.network.main.spread_all(self.kept)

    @property
    def zone_volts(self) -> tuple[FloatArray, ...]:
        """The same for each zone."""
        pairs = zip(self.network.zones, self.zone_kept, strict=True)
        return tuple(zone.spread_all(kept) for zone, kept in pairs)


def frozen(solution: Solution) -> Solution:
    """The same with every array read-only."""
    for array in (
        solution.kept,
        solution.watts,
        solution.states,
        solution.outcome,
        solution.iterations,
        solution.refusals,
        solution.offers,
        *solution.tops,
        *solution.zone_kept,
    ):
        array.flags.writeable = False
    if solution.points is not None:
        solution.points.flags.writeable = False
    return replace(solution)


def first_carry(problem: Problem) -> Carry:
    """States as the station starts, every node where it starts."""
    states = [value for data in problem.main for value in data.initial]
    columns = problem.columns.weights.shape[1]
    return Carry(
        np.array(states, dtype=np.float64),
        np.tile(np.array(problem.network.main.start_v, dtype=np.float64), (columns, 1)),
        np.zeros((len(states), 2)),
    )


def refusals_of(asked: FloatArray, slots: list[int]) -> np.ndarray:
    """Rows of REFUSAL from voltages (time, column, load), NaN where a load was served."""
    step, column, load = np.nonzero(~np.isnan(asked))
    rows = np.zeros(len(step), dtype=REFUSAL)
    rows["step"], rows["column"] = step, column
    rows["slot"] = np.array(slots, dtype=np.int64)[load] if slots else 0
    rows["asked_v"] = asked[step, column, load]
    return rows


def refused_at(solution: Solution, slot: int) -> tuple[np.ndarray, np.ndarray, FloatArray]:
    """Steps and columns in which the load of a slot was given up, and the volts it stood at."""
    rows = solution.refusals[solution.refusals["slot"] == slot]
    return rows["step"], rows["column"], rows["asked_v"]
