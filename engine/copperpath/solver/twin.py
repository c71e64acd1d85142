"""The numpy twin: the reference that the compiled loop must agree with.

A plain Python loop over steps, arrays over columns. It is slow, it shares only the laws, and it
runs where numba cannot be installed.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

from copperpath.plugin_api import Accumulator, FloatArray, Latch, State
from copperpath.solver.constants import DELAY_SLACK_S, LONG_SEARCH, OFFER_POINTS
from copperpath.solver.laws import law_inputs, offers_at
from copperpath.solver.problem import Problem, SlotData, delay_s, powered_load
from copperpath.solver.solution import (
    Carry,
    Outcome,
    Solution,
    first_carry,
    frozen,
    refusals_of,
)
from copperpath.solver.twin_columns import HardColumns, loads_of
from copperpath.solver.twin_newton import (
    DenseCircuit,
    Inputs,
    dense,
    evaluate,
    search,
    volts_at,
)
from copperpath.solver.twin_offers import offers, throttled


def solve_twin(problem: Problem, carry: Carry | None = None) -> Solution:
    """Solve a problem with numpy alone; same meaning as `compiled.solve_compiled`."""
    network = problem.network
    steps, columns = problem.columns.weights.shape
    zones = [
        dense(circuit, slots) for circuit, slots in zip(network.zones, problem.zones, strict=True)
    ]
    made = [offers(zone, steps) for zone in zones]
    points = np.zeros((steps, max(len(network.seekers), 1), 2 * OFFER_POINTS))
    for seeker, (zone, port) in enumerate(network.seekers):
        points[:, seeker] = made[zone].tables
        points[:, seeker, OFFER_POINTS:] *= made[zone].shares[:, port, None]
    walk = _Walk(problem, points, carry or first_carry(problem))
    for step in range(steps):
        walk.step(step)
    zone_kept = []
    for index, (zone_circuit, offer) in enumerate(zip(zones, made, strict=True)):
        wanted = np.zeros((steps, columns))
        for seeker, (zone, _) in enumerate(network.seekers):
            if zone == index:
                wanted += np.nan_to_num(walk.watts[:, :, seeker])
        zone_kept.append(throttled(zone_circuit, offer.tables, offer.tops, wanted))
    lowest = [place for place, data in enumerate(problem.main) if powered_load(data) is not None]
    return frozen(
        Solution(
            network=network,
            kept=walk.volts,
            watts=walk.watts,
            states=walk.states,
            outcome=walk.outcome,
            iterations=np.zeros((steps, columns), dtype=np.int32),
            refusals=refusals_of(walk.asked, lowest),
            offers=walk.offers,
            points=points,
            tops=tuple(offer.tops for offer in made),
            zone_kept=tuple(zone_kept),
            executor="numpy twin",
            carry=Carry(walk.x.copy(), walk.v.copy(), walk.held.copy()),
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
        self.loads = loads_of(problem.main)
        # carried from step to step
        self.x = carry.states.copy()
        self.v = carry.volts.copy()
        self.held = carry.held.copy()
        # written down
        steps, columns = problem.columns.weights.shape
        seekers = len(problem.network.seekers)
        self.volts = np.zeros((steps, columns, len(self.main.start_v)))
        self.watts = np.zeros((steps, columns, seekers))
        self.offers = np.zeros((steps, columns, seekers))
        self.states = np.zeros((steps + 1, len(self.x)))
        self.states[0] = self.x
        self.outcome = np.zeros((steps, columns), dtype=np.int8)
        self.asked = np.full((steps, columns, len(self.loads)), np.nan)

    def step(self, t: int) -> None:
        """Solve the columns of one step and advance the states."""
        columns = self.problem.columns
        needed = columns.weights[t] != 0.0
        needed[columns.mean :] = True
        chosen = np.flatnonzero(needed)
        inputs = self._inputs(t, chosen)
        v, turns = search(self.main, self.v[chosen], inputs)
        outcome = np.full(len(chosen), Outcome.SOLVED)
        opened = np.zeros((len(chosen), len(self.problem.main)), dtype=bool)
        again = np.flatnonzero(long(turns) | self._short(t, v))
        if len(again):
            hard = HardColumns(
                self.main, lambda places: self._inputs(t, chosen[again[places]]), self.loads, t
            )
            hard.finish(len(again))
            v[again], opened[again], outcome[again] = hard.v, hard.opened, hard.outcome
            self.asked[t, chosen[again]] = hard.asked
        inputs = replace(inputs, opened=opened)
        signals = self._signals(v, inputs)
        failed = outcome == Outcome.NOT_SOLVED
        signals[:, failed] = 0.0
        self._write(t, chosen, v, inputs, outcome)
        v[failed] = self.main.start_v
        self.v[chosen] = v
        self._advance(t, chosen, signals)
        self.states[t + 1] = self.x

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
        for load in self.loads:
            if load.demand[t] > 0.0:
                short |= v[:, load.node] < load.lowest_v
        return short

    def _signals(self, v: FloatArray, inputs: Inputs) -> np.ndarray:
        rows: list[Any] = []
        for slot, data in enumerate(self.problem.main):
            if data.slot.device.model.watch is None:
                continue
            volts = volts_at(self.main, slot, v, inputs)
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
            volts = [v[:, node] for node in data.slot.kept]
            watts = evaluate(self.main, slot, volts, inputs)[data.shape.seek_place]
            seeker = data.slot.seeks
            self.watts[t, chosen, seeker] = np.where(failed, np.nan, watts)
            tuples = law_inputs(data, volts, inputs.states[slot], inputs.drives[slot])
            assert inputs.offer is not None
            self.offers[t, chosen, seeker] = inputs.offer(slot, *tuples)
        mean = self.problem.columns.mean
        skipped = np.setdiff1d(np.arange(self.volts.shape[1]), chosen)
        for array in (self.volts, self.watts, self.offers):
            array[t, skipped] = array[t, mean]

    def _advance(self, t: int, chosen: np.ndarray, signals: np.ndarray) -> None:
        columns, dt = self.problem.columns, float(self.problem.dt_s[t])
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
        on_s, off_s = self.held[place]
        on_s, off_s = (on_s + dt if on else 0.0), (off_s + dt if off else 0.0)
        self.held[place] = on_s, off_s
        if on and on_s >= delay_s(data, state.set_after) - DELAY_SLACK_S:
            self.x[place] = 1.0
        elif off and off_s >= delay_s(data, state.clear_after) - DELAY_SLACK_S:
            self.x[place] = 0.0
