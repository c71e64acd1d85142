"""The compiled executor: flatten, make offers, run the loop, find the throttled panel voltages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.flatten import FlatCircuit, flatten, flatten_states
from copperpath.solver.laws import seek_watts
from copperpath.solver.loop import Carried, Outputs, run_loop
from copperpath.solver.offer_memory import offers_of
from copperpath.solver.offers import throttle
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Carry, Solution, first_carry, frozen


@dataclass(frozen=True, slots=True)
class Prepared:
    """A problem laid out and its offers made, ready to be stepped through more than once."""

    problem: Problem
    main: FlatCircuit
    zones: tuple[FlatCircuit, ...]
    states: np.ndarray
    points: FloatArray
    tops: tuple[FloatArray, ...]


def prepare(problem: Problem) -> Prepared:
    """Flatten circuits and make the offers of every source-side zone."""
    steps = problem.steps
    flats = tuple(
        flatten(circuit, slots, steps)
        for circuit, slots in zip(problem.network.zones, problem.zones, strict=True)
    )
    points = np.zeros((steps, max(len(flats), 1), 2 * OFFER_POINTS))
    offers = [offers_of(flat) for flat in flats]
    for index, offer in enumerate(offers):
        points[:, index] = offer.tables
    tops = tuple(offer.tops.copy() for offer in offers)
    main = flatten(problem.network.main, problem.main, steps)
    states = flatten_states(problem.main, problem.dt)
    return Prepared(problem, main, flats, states, points, tops)


def solve_compiled(problem: Problem, carry: Carry | None = None) -> Solution:
    """Solve a problem from `carry`, or from the station's own start.

    Returns
    -------
    Solution
        With read-only arrays.
    """
    prepared = prepare(problem)
    outputs, after = step_through(prepared, carry or first_carry(problem))
    watts = np.zeros((*problem.columns.weights.shape, max(len(problem.main), 1)))
    zone_volts = []
    for index, (flat, tops) in enumerate(zip(prepared.zones, prepared.tops, strict=True)):
        wanted = seek_watts(problem, outputs.volts, outputs.states, prepared.points, index)
        watts[:, :, _seeker(problem, index)] = wanted
        zone_volts.append(_zone_volts(flat, prepared.points[:, index], tops, wanted))
    return frozen(
        Solution(
            outputs.volts,
            watts,
            outputs.states,
            outputs.outcome,
            outputs.iterations,
            prepared.points,
            prepared.tops,
            tuple(zone_volts),
            "compiled loop",
            after,
        )
    )


def step_through(prepared: Prepared, start: Carry) -> tuple[Outputs, Carry]:
    """Run the time loop over a prepared problem; what it wrote, and what it hands on."""
    problem, main, states = prepared.problem, prepared.main, prepared.states
    steps, columns = problem.columns.weights.shape
    count = len(states)
    out = Outputs(
        np.zeros((steps, columns, main.arrays.nodes)),
        np.zeros((steps + 1, count + 1)),
        np.zeros((steps, columns), dtype=np.int8),
        np.zeros((steps, columns), dtype=np.int32),
    )
    carried = Carried(start.volts.copy(), np.vstack([start.held, np.zeros((1, 2), dtype=np.int64)]))
    x = np.concatenate([start.states, [0.0]])
    level_at = [
        int(main.arrays.slot[slot]["drive"]) + data.level_at
        for slot, data in enumerate(problem.main)
        if data.level_at >= 0
    ]
    run_loop(
        main.arrays,
        states,
        sum(data.shape.signals for data in problem.main),
        x,
        main.drives,
        main.parameters,
        np.array(level_at, dtype=np.int64),
        problem.columns.levels,
        problem.columns.weights,
        problem.columns.mean,
        problem.columns.worst,
        prepared.points.reshape(steps, -1),
        2 * OFFER_POINTS,
        problem.dt,
        problem.start_v,
        carried,
        main.workspace(),
        out,
    )
    out = out._replace(states=np.ascontiguousarray(out.states[:, :count]))
    return out, Carry(x[:count].copy(), carried.volts, carried.held[:count].copy())


def _seeker(problem: Problem, zone: int) -> int:
    return next(k for k, data in enumerate(problem.main) if data.slot.seeks == zone)


def _zone_volts(
    flat: FlatCircuit, points: FloatArray, tops: FloatArray, watts: FloatArray
) -> FloatArray:
    """Node voltages of a zone at the power its controller takes (time, column, node)."""
    wanted = np.nan_to_num(watts)
    volts = np.zeros((*wanted.shape, flat.arrays.nodes))
    throttle(
        flat.arrays,
        flat.drives,
        flat.parameters,
        flat.workspace(),
        np.ascontiguousarray(points),
        tops,
        wanted,
        volts,
    )
    return volts


def compiled_stepper(problem: Problem) -> Callable[[Carry], Solution]:
    """Prepare once; the returned function runs the problem from a carried state. The source-side
    zones are left at zero volts and watts, for nobody asks for them there."""
    prepared = prepare(problem)
    columns = problem.columns.weights.shape[1]
    zone_volts = tuple(
        np.zeros((problem.steps, columns, flat.arrays.nodes)) for flat in prepared.zones
    )
    watts = np.zeros((problem.steps, columns, max(len(problem.main), 1)))

    def run(carry: Carry) -> Solution:
        out, after = step_through(prepared, carry)
        return Solution(
            out.volts,
            watts,
            out.states,
            out.outcome,
            out.iterations,
            prepared.points,
            prepared.tops,
            zone_volts,
            "compiled loop",
            after,
        )

    return run
