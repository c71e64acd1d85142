"""One operating point of a station, with the volts of every terminal and the amps of every cable.

Where no voltage carries all loads, they are switched off one by one, what is given up first
coming first, until one does; the corner names them.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.plugin_api.inquiry import Corner
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.laws import offers_at
from copperpath.solver.problem import Problem
from copperpath.solver.twin_newton import DenseCircuit, Inputs, dense, evaluate, settle, solve

NOTHING = Corner(False, {}, {}, {})


def nothing_offered(problem: Problem) -> FloatArray:
    """Offer tables (seeker, 2 * OFFER_POINTS) of panels in the dark."""
    tables = np.zeros((max(len(problem.network.seekers), 1), 2 * OFFER_POINTS))
    tables[:, :OFFER_POINTS] = np.arange(OFFER_POINTS)
    return tables


def solve_corner(
    problem: Problem,
    states: list[list[float]],
    drives: list[list[float]],
    tables: FloatArray,
) -> Corner:
    """The operating point of given states and drives by slot."""
    circuit = dense(problem.network.main, problem.main)

    def offer(slot: int, v: Any, x: Any, d: Any, p: Any) -> Any:
        data = problem.main[slot]
        floor = data.slot.device.model.floor(v, x, d._replace(offer=0.0), p)
        return offers_at(tables[None, data.slot.seeks], np.atleast_1d(floor)[None])[0]

    loads = sorted(
        (
            place
            for place, data in enumerate(problem.main)
            if data.slot.device.kind == "load" and data.slot.device.model.demand
        ),
        key=lambda place: -problem.main[place].slot.device.rank,
    )
    opened: list[int] = []
    for further in (-1, *loads):
        if further >= 0:
            opened.append(further)
        inputs = Inputs(
            [[np.array([value]) for value in row] for row in states],
            [[np.array([value]) for value in row] for row in drives],
            offer,
            _open(len(problem.main), opened),
        )
        volts = _point(circuit, inputs)
        if volts is not None:
            needed = _really_needed(circuit, inputs, opened)
            if needed is not None:
                inputs, volts, opened = needed
            return _read(problem, circuit, inputs, volts, opened)
    return NOTHING


def _open(slots: int, opened: Iterable[int]) -> np.ndarray | None:
    marked = np.zeros((1, slots), dtype=bool)
    marked[0, list(opened)] = True
    return marked if marked.any() else None


def _really_needed(
    circuit: DenseCircuit, inputs: Inputs, opened: list[int]
) -> tuple[Inputs, FloatArray, list[int]] | None:
    """Loads given up early that can stay on once a later one is off are put back, one by one."""
    if len(opened) < 2:
        return None
    best: tuple[Inputs, FloatArray, list[int]] | None = None
    still = list(opened)
    for one in opened[:-1]:
        fewer = [each for each in still if each != one]
        tried = Inputs(inputs.states, inputs.drives, inputs.offer, _open(len(circuit.slots), fewer))
        volts = _point(circuit, tried)
        if volts is not None:
            still, best = fewer, (tried, volts, fewer)
    return best


def _point(circuit: DenseCircuit, inputs: Inputs) -> FloatArray | None:
    """Volts (1, node) from a fresh start, settled if a plain search finds none."""
    start = circuit.start_v[None].copy()
    volts, found = solve(circuit, start, inputs)
    if not found[0]:
        volts, found = solve(circuit, settle(circuit, start, inputs), inputs)
    return volts if found[0] else None


def _read(
    problem: Problem,
    circuit: DenseCircuit,
    inputs: Inputs,
    solved: FloatArray,
    opened: list[int],
) -> Corner:
    net = problem.network.main
    everywhere = net.spread_all(solved)[0]
    volts = {name: float(everywhere[node]) for node, name in enumerate(net.nodes)}
    amps = {
        branch.owner: float(net.across(solved, place)[0]) / branch.ohm
        for place, branch in enumerate(net.branches)
        if branch.is_cable
    }
    into: dict[str, float] = {}
    for slot, data in enumerate(problem.main):
        names = list(data.shape.v_fields)
        if slot in opened:
            currents: Iterable[Any] = [0.0] * len(names)
        else:
            at = [solved[:, node] for node in data.slot.kept]
            currents = data.shape.currents(evaluate(circuit, slot, at, inputs))
        for name, current in zip(names, currents, strict=True):
            terminal = f"{data.slot.device.name}.{name.rstrip('_')}"
            into[terminal] = float(np.asarray(current).reshape(-1)[0])
    return Corner(
        True, volts, amps, into, tuple(problem.main[slot].slot.device.name for slot in opened)
    )


def worst_of(corners: Iterable[Corner]) -> Corner:
    """The lowest volts and the largest amps of several, as the ways of keying are."""
    several = [corner for corner in corners if corner.found]
    if not several:
        return NOTHING
    first = several[0]
    if len(several) == 1:
        return first
    volts = {name: min(each.volts[name] for each in several) for name in first.volts}
    amps = {n: max((each.amps[n] for each in several), key=abs) for n in first.amps}
    into = {n: max((each.into[n] for each in several), key=abs) for n in first.into}
    opened = tuple(dict.fromkeys(name for each in several for name in each.opened))
    return Corner(True, volts, amps, into, opened)
