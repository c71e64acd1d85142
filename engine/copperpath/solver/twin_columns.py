"""The reference for columns that a plain search does not solve: the rules of `columns.py` in numpy,
all such columns of a step side by side, each with its own loads given up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import DEAD_SHARE, MOST_SETTLING, PATIENT_SETTLING
from copperpath.solver.problem import SlotData, powered_load
from copperpath.solver.solution import Outcome
from copperpath.solver.twin_newton import DenseCircuit, Inputs, settle, solve

InputsOf = Callable[[np.ndarray], Inputs]
"""Inputs of some of the columns, by their places."""


@dataclass(frozen=True, slots=True)
class Load:
    """A load that may be given up: its slot, its judged node, its least voltage [V], how late it
    is given up (the highest rank goes first), its demand (time,)."""

    slot: int
    node: int
    lowest_v: float
    rank: int
    demand: FloatArray


def loads_of(slots: tuple[SlotData, ...]) -> tuple[Load, ...]:
    """Loads that say when they are powered, in order."""
    found = []
    for place, data in enumerate(slots):
        load = powered_load(data)
        if load is not None:
            rank = data.slot.device.rank
            found.append(Load(place, load.node, load.lowest_v, rank, data.drives[load.drive]))
    return tuple(found)


class HardColumns:
    """Columns of one step being solved afresh: volts (point, node), open slots (point, slot), volts
    at which loads were given up (point, load), outcome (point,)."""

    def __init__(
        self, circuit: DenseCircuit, inputs_of: InputsOf, loads: tuple[Load, ...], step: int
    ) -> None:
        self.circuit, self.inputs_of, self.loads = circuit, inputs_of, loads
        self.wanted = [load.demand[step] > 0.0 for load in loads]

    def finish(self, count: int) -> None:
        """Settle and solve; give up what stays short; try it again."""
        self.v = np.tile(self.circuit.start_v, (count, 1))
        self.opened = np.zeros((count, len(self.circuit.slots)), dtype=bool)
        self.asked = np.full((count, len(self.loads)), np.nan)
        self.found = np.zeros(count, dtype=bool)
        everyone = np.arange(count)
        self._fresh(everyone)
        hard = np.array(
            [p for p in range(count) if not self.found[p] or self._short(p)], dtype=np.int64
        )
        self._give_up(hard)
        self._try_again(hard)
        gave = np.where(self.opened.any(axis=1), Outcome.GAVE_UP, Outcome.RESTARTED)
        self.outcome = np.where(self.found, gave, Outcome.NOT_SOLVED)

    def _inputs(self, points: np.ndarray) -> Inputs:
        return replace(self.inputs_of(points), opened=self.opened[points])

    def _fresh(self, points: np.ndarray) -> None:
        """Settle from the start and solve, once more with patience where that fails."""
        for most in (MOST_SETTLING, PATIENT_SETTLING):
            start = np.tile(self.circuit.start_v, (len(points), 1))
            settled = settle(self.circuit, start, self._inputs(points), most)
            self.v[points], self.found[points] = solve(self.circuit, settled, self._inputs(points))
            points = points[~self.found[points]]
            if not len(points):
                break

    def _near(self, points: np.ndarray) -> None:
        """Solve from where the points stand, afresh where that fails."""
        if not len(points):
            return
        inputs = self._inputs(points)
        self.v[points], self.found[points] = solve(self.circuit, self.v[points], inputs)
        failed = points[~self.found[points]]
        if len(failed):
            self._fresh(failed)

    def _share(self, point: int, load: Load) -> float:
        return float(self.v[point, load.node] / load.lowest_v) if load.lowest_v > 0.0 else 1.0

    def _able(self, point: int) -> list[int]:
        """Loads that are wanted and not open."""
        return [
            k
            for k, load in enumerate(self.loads)
            if self.wanted[k] and not self.opened[point, load.slot]
        ]

    def _short(self, point: int) -> bool:
        return any(
            self.v[point, self.loads[k].node] < self.loads[k].lowest_v for k in self._able(point)
        )

    def _next_to_go(self, point: int) -> int | None:
        anyone = not self.found[point]
        able = [
            (-self.loads[k].rank, self._share(point, self.loads[k]), k)
            for k in self._able(point)
            if anyone or DEAD_SHARE < self._share(point, self.loads[k]) < 1.0
        ]
        return min(able)[2] if able else None

    def _give_up(self, points: np.ndarray) -> None:
        while len(points):
            going = []
            for point in points:
                k = self._next_to_go(point)
                if k is not None:
                    stood = self.v[point, self.loads[k].node] if self.found[point] else 0.0
                    self.asked[point, k] = stood
                    self.opened[point, self.loads[k].slot] = True
                    going.append(point)
            points = np.array(going, dtype=np.int64)
            self._near(points)

    def _try_again(self, points: np.ndarray) -> None:
        """Close loads again, the most important first, where nobody becomes short by it."""
        waiting = {
            int(point): sorted(
                (k for k, load in enumerate(self.loads) if self.opened[point, load.slot]),
                key=lambda k: (self.loads[k].rank, k),
            )
            for point in points
            if self.found[point]
        }
        while any(waiting.values()):
            trying = np.array([point for point, loads in waiting.items() if loads], dtype=np.int64)
            chosen = {int(point): waiting[int(point)].pop(0) for point in trying}
            before = self.v.copy()
            for point, k in chosen.items():
                self.opened[point, self.loads[k].slot] = False
            self._near(trying)
            for point, k in chosen.items():
                if self.found[point] and not self._short(point):
                    self.asked[point, k] = np.nan
                else:
                    self.opened[point, self.loads[k].slot] = True
                    self.v[point], self.found[point] = before[point], True
