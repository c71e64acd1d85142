"""The numpy twin: the reference that the compiled loop must agree with.

A plain Python loop over steps, arrays over columns. It is slow, it shares only the laws, and it
runs where numba cannot be installed.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from copperpath.plugin_api import Accumulator, FloatArray, Latch, State
from copperpath.solver.constants import LONG_SEARCH, OFFER_POINTS
from copperpath.solver.laws import offers_at
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.solution import Carry, Outcome, Solution, first_carry, frozen
from copperpath.solver.twin_newton import (
    DenseCircuit,
    Inputs,
    dense,
    evaluate,
    search,
    settle,
    solve,
)
from copperpath.solver.twin_offers import offers, throttled


def solve_twin(problem: Problem, carry: Carry | None = None) -> Solution:
    """Solve a problem with numpy alone; same meaning as `compiled.solve_compiled`."""
    steps, columns = problem.columns.weights.shape
    zones = [
        dense(circuit, slots)
        for circuit, slots in zip(problem.network.zones, problem.zones, strict=True)
    ]
    made = [offers(zone, steps) for zone in zones]
    points = np.zeros((steps, max(len(zones), 1), 2 * OFFER_POINTS))
    for index, (table, _) in enumerate(made):
        points[:, index] = table
    walk = _Walk(problem, points, carry or first_carry(problem))
    for step in range(steps):
        walk.step(step)
    zone_volts = []
    for index, (zone, (table, tops)) in enumerate(zip(zones, made, strict=True)):
        seeker = next(k for k, data in enumerate(problem.main) if data.slot.seeks == index)
        wanted = np.nan_to_num(walk.watts[:, :, seeker])
        zone_volts.append(throttled(zone, table, tops, wanted))
    return frozen(
        Solution(
            walk.volts,
            walk.watts,
            walk.states,
            walk.outcome,
            np.zeros((steps, columns), dtype=np.int32),
            points,
            tuple(tops for _, tops in made),
            tuple(zone_volts),
            "numpy twin",
            Carry(walk.x.copy(), walk.v.copy(), walk.held.copy()),
        )
    )


def long(turns: np.ndarray) -> np.ndarray:
    """Which searches failed or took so long that rounding may have decided their end."""
    return np.asarray((turns == 0) | (turns > LONG_SEARCH))


class _Walk:
    """The state of one walk through time, and what it has written down so far."""

    def __init__(self, problem: Problem, points: FloatArray, carry: Carry) -> None:
        # settings
        self.problem = problem
        self.points = points
        self.main: DenseCircuit = dense(problem.network.main, problem.main)
        self.owners = [(data, state) for data in problem.main for state in data.states]
        # carried from step to step
        self.x = carry.states.copy()
        self.v = carry.volts.copy()
        self.held = carry.held.copy()
        # written down
        steps, columns = problem.columns.weights.shape
        self.volts = np.zeros((steps, columns, len(problem.network.main.nodes)))
        self.watts = np.zeros((steps, columns, max(len(problem.main), 1)))
        self.states = np.zeros((steps + 1, len(self.x)))
        self.states[0] = self.x
        self.outcome = np.zeros((steps, columns), dtype=np.int8)

    def step(self, t: int) -> None:
        """Solve the columns of one step and advance the states."""
        columns = self.problem.columns
        needed = columns.weights[t] != 0.0
        needed[[columns.mean, columns.worst]] = True
        chosen = np.flatnonzero(needed)
        inputs = self._inputs(t, chosen)
        v, turns = search(self.main, self.v[chosen], inputs)
        outcome = np.full(len(chosen), Outcome.SOLVED)
        again = long(turns) | self._short(t, v)
        if again.any():
            inputs_again = self._inputs(t, chosen[again])
            settled = settle(self.main, self._flat(again), inputs_again)
            v[again], found = solve(self.main, settled, inputs_again)
            outcome[again] = np.where(found, Outcome.RESTARTED, Outcome.NOT_SOLVED)
        signals = self._signals(v, inputs)
        failed = outcome == Outcome.NOT_SOLVED
        signals[:, failed] = 0.0
        self._write(t, chosen, v, inputs, outcome)
        v[failed] = self.problem.start_v
        self.v[chosen] = v
        self._advance(t, chosen, signals)
        self.states[t + 1] = self.x

    def _flat(self, which: np.ndarray) -> FloatArray:
        nodes = len(self.problem.network.main.nodes)
        return np.full((int(which.sum()), nodes), self.problem.start_v)

    def _inputs(self, t: int, chosen: np.ndarray) -> Inputs:
        states: list[list[Any]] = []
        drives: list[list[Any]] = []
        first = radio = 0
        for data in self.problem.main:
            count = len(data.states)
            states.append([np.full(len(chosen), value) for value in self.x[first : first + count]])
            first += count
            row: list[Any] = [np.full(len(chosen), value) for value in data.drives[:, t]]
            if data.level_at >= 0:
                row[data.level_at] = self.problem.columns.levels[t, chosen, radio]
                radio += 1
            drives.append(row)

        def offer(slot: int, v: Any, x: Any, d: Any, p: Any) -> Any:
            data = self.problem.main[slot]
            floor = data.slot.device.model.floor(v, x, d._replace(offer=0.0), p)
            table = self.points[t, data.slot.seeks]
            return offers_at(table[None], np.asarray(floor)[None])[0]

        return Inputs(states, drives, offer)

    def _short(self, t: int, v: FloatArray) -> np.ndarray:
        short = np.zeros(len(v), dtype=bool)
        for data in self.problem.main:
            powered = data.slot.device.model.powered
            if powered is None:
                continue
            demand = data.drives[data.shape.d_fields.index(data.slot.device.model.demand), t]
            node = data.slot.nodes[data.shape.v_fields.index(powered[0])]
            if demand > 0.0:
                short |= v[:, node] < float(data.values[powered[1]])
        return short

    def _signals(self, v: FloatArray, inputs: Inputs) -> np.ndarray:
        rows: list[Any] = []
        for slot, data in enumerate(self.problem.main):
            if data.slot.device.model.watch is None:
                continue
            volts = [v[:, node] for node in data.slot.nodes]
            returned = evaluate(self.main, slot, volts, inputs)
            rows += self._watch(slot, data, volts, returned, inputs)
        if not rows:
            return np.zeros((0, len(v)))
        return np.stack([np.broadcast_to(np.asarray(row, dtype=float), len(v)) for row in rows])

    def _watch(
        self, slot: int, data: SlotData, volts: list[Any], returned: Any, inputs: Inputs
    ) -> list[Any]:
        shape, model = data.shape, data.slot.device.model
        v = shape.v_type(*volts)
        x = shape.x_type(*inputs.states[slot])
        d = shape.d_type(*inputs.drives[slot])
        p = shape.p_type(*data.parameters)
        if shape.seek_place >= 0:
            assert inputs.offer is not None
            d = d._replace(offer=inputs.offer(slot, v, x, d, p))
        return list(model.watch(v, returned, x, d, p))

    def _write(
        self, t: int, chosen: np.ndarray, v: FloatArray, inputs: Inputs, outcome: np.ndarray
    ) -> None:
        failed = outcome == Outcome.NOT_SOLVED
        self.outcome[t] = Outcome.SKIPPED
        self.outcome[t, chosen] = outcome
        self.volts[t, chosen] = np.where(failed[:, None], np.nan, v)
        for slot, data in enumerate(self.problem.main):
            if data.shape.seek_place < 0:
                continue
            volts = [v[:, node] for node in data.slot.nodes]
            watts = evaluate(self.main, slot, volts, inputs)[data.shape.seek_place]
            self.watts[t, chosen, slot] = np.where(failed, np.nan, watts)
        mean = self.problem.columns.mean
        skipped = np.setdiff1d(np.arange(self.volts.shape[1]), chosen)
        self.volts[t, skipped] = self.volts[t, mean]
        self.watts[t, skipped] = self.watts[t, mean]

    def _advance(self, t: int, chosen: np.ndarray, signals: np.ndarray) -> None:
        columns, dt = self.problem.columns, self.problem.dt
        weights = columns.weights[t, chosen]
        at = {int(column): place for place, column in enumerate(chosen)}
        row = 0
        for place, (data, state) in enumerate(self.owners):
            if isinstance(state, Latch):
                column = columns.worst if state.judged == "worst" else columns.mean
                on, off = signals[row : row + 2, at[column]] > 0.5
                self._latch(place, data, state, bool(on), bool(off), dt)
                row += 2
                continue
            mean = float(np.dot(weights, signals[row]))
            row += 1
            if isinstance(state, Accumulator):
                self.x[place] = min(max(self.x[place] + dt * mean, state.low), state.high)
            else:
                tau = float(data.values[state.tau])
                keep = math.exp(-dt / tau) if tau > 0.0 else 0.0
                self.x[place] = keep * self.x[place] + (1.0 - keep) * mean

    def _latch(
        self, place: int, data: SlotData, state: State, on: bool, off: bool, dt: float
    ) -> None:
        assert isinstance(state, Latch)
        run_on, run_off = self.held[place]
        run_on, run_off = (run_on + 1 if on else 0), (run_off + 1 if off else 0)
        self.held[place] = run_on, run_off

        def steps(parameter: str) -> int:
            return max(1, math.ceil(float(data.values[parameter]) / dt)) if parameter else 1

        if run_on >= steps(state.set_after):
            self.x[place] = 1.0
        elif run_off >= steps(state.clear_after):
            self.x[place] = 0.0
