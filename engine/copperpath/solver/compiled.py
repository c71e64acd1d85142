"""The compiled executor: flatten, make offers, run the loop, find the throttled panel voltages.

A run goes in pieces of a day or so: what a piece needs besides its result (drives laid out, tables
of offers) is dropped with it, and the offers of the pieces to come are made on other threads.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.flatten import FlatCircuit, flatten, flatten_states, level_places, over
from copperpath.solver.laws import seeking_at
from copperpath.solver.loop import Course, Outputs, mean_first, run_loop
from copperpath.solver.offer_memory import offers_of
from copperpath.solver.problem import Problem, SlotData, cut
from copperpath.solver.solution import (
    REFUSAL,
    Carry,
    Solution,
    first_carry,
    frozen,
    refusals_of,
)
from copperpath.solver.supplies import Supplies, supplies
from copperpath.solver.throttling import Throttling, throttle

NAME = "compiled loop"

PIECE_STEPS = 1440
"""Steps of a piece: a day of minutes."""

AHEAD = 4
"""Pieces whose offers are made before their turn comes."""

KEEP_POINTS_STEPS = 20_000
"""Runs of more steps do not keep their tables of offers: 400 bytes a step and controller."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A problem laid out and its offers made, ready to be stepped through more than once.

    Stepping completes tables of the `supplies` where it looks at them above the best voltage.
    """

    problem: Problem
    main: FlatCircuit
    zones: tuple[FlatCircuit, ...]
    states: np.ndarray
    supplies: Supplies
    zone_points: tuple[FloatArray, ...]
    tops: tuple[FloatArray, ...]


def all_concave(slots: tuple[SlotData, ...]) -> bool:
    """True if a zone has concave sources alone, so that its power has one hump."""
    return all(data.slot.device.model.concave for data in slots)


def laid_out(problem: Problem) -> tuple[FlatCircuit, ...]:
    """The zones and then the main circuit, flattened."""
    network, steps = problem.network, problem.steps
    zones = zip(network.zones, problem.zones, strict=True)
    return tuple(
        flatten(circuit, slots, steps) for circuit, slots in (*zones, (network.main, problem.main))
    )


def prepare(problem: Problem, alike: tuple[FlatCircuit, ...] = ()) -> Prepared:
    """Flatten circuits and make the offers of every source-side zone. `alike`: the circuits of the
    same problem over other steps, if they are laid out already."""
    steps, network = problem.steps, problem.network
    slots = (*problem.zones, problem.main)
    *flats, main = (
        [over(flat, devices, steps) for flat, devices in zip(alike, slots, strict=True)]
        if alike
        else laid_out(problem)
    )
    offers = [
        offers_of(flat, concave=all_concave(slots))
        for flat, slots in zip(flats, problem.zones, strict=True)
    ]
    return Prepared(
        problem,
        main,
        tuple(flats),
        flatten_states(problem.main),
        supplies(tuple(flats), offers, network.seekers, steps),
        tuple(offer.tables for offer in offers),
        tuple(offer.tops.copy() for offer in offers),
    )


def solve_compiled(problem: Problem, carry: Carry | None = None, threads: int = 0) -> Solution:
    """Solve a problem from `carry`, or from the station's own start.

    Parameters
    ----------
    threads : int
        How many make offers beside the loop; 0 for one a processor.

    Returns
    -------
    Solution
        With read-only arrays.
    """
    after = carry or first_carry(problem)
    if problem.steps <= PIECE_STEPS:
        return frozen(_solve_piece(prepare(problem), after))
    whole = _blank(problem)
    refusals = []
    first = 0
    for prepared in _in_pieces(problem, threads or os.cpu_count() or 1):
        piece = _solve_piece(prepared, after)
        _write(whole, piece, slice(first, first + prepared.problem.steps))
        piece.refusals["step"] += first
        refusals.append(piece.refusals)
        after, first = piece.carry, first + prepared.problem.steps
    return frozen(replace(whole, refusals=np.concatenate(refusals), carry=after))


def _in_pieces(problem: Problem, threads: int) -> Iterator[Prepared]:
    """The problem's pieces in order, each prepared; some are prepared ahead on other threads."""
    starts = range(0, problem.steps, PIECE_STEPS)
    pieces = (cut(problem, slice(start, start + PIECE_STEPS)) for start in starts)
    alike = laid_out(cut(problem, slice(0, 1)))
    if threads == 1 or len(starts) == 1 or not problem.zones:
        for piece in pieces:
            yield prepare(piece, alike)
        return
    with ThreadPoolExecutor(threads) as pool:
        waiting: list[Future[Prepared]] = []
        for piece in pieces:
            waiting.append(pool.submit(prepare, piece, alike))
            if len(waiting) > AHEAD:
                yield waiting.pop(0).result()
        for future in waiting:
            yield future.result()


def _blank(problem: Problem) -> Solution:
    """A solution with room for everything."""
    network = problem.network
    steps, columns = problem.columns.weights.shape
    seekers = len(network.seekers)
    carry = first_carry(problem)
    keep = steps <= KEEP_POINTS_STEPS
    return Solution(
        network=network,
        kept=np.zeros((steps, columns, len(network.main.merged.nodes))),
        watts=np.zeros((steps, columns, seekers)),
        states=np.zeros((steps + 1, len(carry.states))),
        outcome=np.zeros((steps, columns), dtype=np.int8),
        iterations=np.zeros((steps, columns), dtype=np.int32),
        refusals=np.zeros(0, dtype=REFUSAL),
        offers=np.zeros((steps, columns, seekers)),
        points=np.zeros((steps, max(seekers, 1), 2 * OFFER_POINTS)) if keep else None,
        tops=tuple(np.zeros(steps) for _ in network.zones),
        zone_kept=tuple(
            np.zeros((steps, columns, len(zone.merged.nodes))) for zone in network.zones
        ),
        executor=NAME,
        carry=carry,
    )


def _write(whole: Solution, piece: Solution, span: slice) -> None:
    """Put a piece's arrays in their place."""
    whole.kept[span] = piece.kept
    whole.watts[span] = piece.watts
    whole.states[span.start : span.stop + 1] = piece.states
    whole.outcome[span] = piece.outcome
    whole.iterations[span] = piece.iterations
    whole.offers[span] = piece.offers
    if whole.points is not None and piece.points is not None:
        whole.points[span] = piece.points
    for index in range(len(whole.tops)):
        whole.tops[index][span] = piece.tops[index]
        whole.zone_kept[index][span] = piece.zone_kept[index]


def _solve_piece(prepared: Prepared, start: Carry) -> Solution:
    """One piece from where the one before ended."""
    problem = prepared.problem
    out, after = step_through(prepared, start)
    solution = _bare(prepared, out, after)
    for seeker in range(len(problem.network.seekers)):
        offer, watts = seeking_at(
            problem, out.volts, out.states[:, :-1], prepared.supplies.points, seeker
        )
        solution.offers[:, :, seeker], solution.watts[:, :, seeker] = offer, watts
    for index, flat in enumerate(prepared.zones):
        wanted = sum(
            solution.watts[:, :, seeker]
            for seeker, (zone, _) in enumerate(problem.network.seekers)
            if zone == index
        )
        job = Throttling(
            drives=flat.drives,
            tables=prepared.zone_points[index],
            tops=prepared.tops[index],
            wanted=np.nan_to_num(np.asarray(wanted)),
            volts=solution.zone_kept[index],
        )
        buffers = flat.workspace()
        throttle(flat.arrays.address, job.address, buffers.address)
    return solution


def _bare(prepared: Prepared, out: Outputs, after: Carry) -> Solution:
    """What the loop wrote, with the source-side zones at nothing."""
    problem = prepared.problem
    steps, columns = problem.columns.weights.shape
    seekers = len(problem.network.seekers)
    return Solution(
        network=problem.network,
        kept=out.volts,
        watts=np.zeros((steps, columns, seekers)),
        states=np.ascontiguousarray(out.states[:, :-1]),
        outcome=out.outcome,
        iterations=out.iterations,
        refusals=refusals_of(out.asked, prepared.main.arrays.lowest["slot"].tolist()),
        offers=np.zeros((steps, columns, seekers)),
        points=prepared.supplies.points,
        tops=prepared.tops,
        zone_kept=tuple(
            np.zeros((steps, columns, len(zone.merged.nodes))) for zone in problem.network.zones
        ),
        executor=NAME,
        carry=after,
    )


def step_through(prepared: Prepared, start: Carry) -> tuple[Outputs, Carry]:
    """Run the time loop over a prepared problem; what it wrote, and what it hands on."""
    problem, main, states = prepared.problem, prepared.main, prepared.states
    steps, columns = problem.columns.weights.shape
    count = len(states)
    out = Outputs(
        volts=np.zeros((steps, columns, main.arrays.nodes)),
        states=np.zeros((steps + 1, count + 1)),
        outcome=np.zeros((steps, columns), dtype=np.int8),
        iterations=np.zeros((steps, columns), dtype=np.int32),
        asked=np.full((steps, columns, len(main.arrays.lowest)), np.nan),
    )
    assert start.volts.shape == (columns, main.arrays.nodes)
    signals = sum(data.shape.signals for data in problem.main)
    course = Course(
        states=states,
        x=np.concatenate([start.states, [0.0]]),
        drives=main.drives,
        level_at=main.arrays.drive[level_places(problem.main)].astype(np.int64),
        levels=np.ascontiguousarray(problem.columns.levels),
        weights=np.ascontiguousarray(problem.columns.weights),
        mean=problem.columns.mean,
        worst=problem.columns.worst,
        order=mean_first(problem.columns.mean, columns),
        offers=prepared.supplies.points.reshape(steps, -1),
        full=prepared.supplies.full,
        supply=prepared.supplies.rows,
        dt=np.ascontiguousarray(problem.dt_s),
        volts=start.volts.copy(),
        held=np.vstack([start.held, np.zeros((1, 2))]),
        signals=np.zeros((columns, max(signals, 1))),
        keep=np.zeros(count),
    )
    buffers = main.workspace()
    run_loop(main.arrays.address, course.address, out.address, buffers.address)
    return out, Carry(course.x[:count].copy(), course.volts, course.held[:count].copy())


def compiled_stepper(problem: Problem) -> Callable[[Carry], Solution]:
    """Prepare once; the returned function runs the problem from a carried state. The source-side
    zones are left at zero volts and watts, for nobody asks for them there."""
    prepared = prepare(problem)

    def run(carry: Carry) -> Solution:
        return _bare(prepared, *step_through(prepared, carry))

    return run
