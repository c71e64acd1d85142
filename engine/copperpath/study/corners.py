"""The two corners of a station, each one solve, without a run over time.

Low: every radio keyed that may be keyed together, every load wanted, lowest planned charge, coldest
cell, nothing from sources whose power comes and goes. High: no radio keyed, no load wanted, stores
full, coldest cell, every source at its best, everything that gives awake; at the record low, where
the station has one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import prod
from typing import Any

import numpy as np

from copperpath.plugin_api import Accumulator, FloatArray, Lag, Latch
from copperpath.record.record import CornerFigure
from copperpath.record.run import charge_state
from copperpath.solver.constants import LEAK_S, OFFER_POINTS
from copperpath.solver.laws import law_inputs, offers_at
from copperpath.solver.problem import Problem, SlotData, keyed_amps
from copperpath.solver.twin_newton import (
    DenseCircuit,
    Inputs,
    assemble,
    dense,
    settle,
    solve,
)
from copperpath.solver.twin_offers import tables_at
from copperpath.study.record_low import followed_in_the_cold, panels_in_the_cold

MOST_WAYS = 1024
"""Ways of keying that are all solved."""

TRIED_STEPS = 96
"""Steps among which the best of a source is looked for."""

ABOVE_FLOOR = 1e-3
"""Charge above the lowest planned one at which the low corner stands, so that it still gives."""


@dataclass(frozen=True, slots=True)
class _Given:
    """States and drives by slot, and the offer tables (seeker, 2 * OFFER_POINTS)."""

    states: list[list[float]]
    drives: list[list[float]]
    tables: FloatArray


def low_corner(problem: Problem) -> tuple[CornerFigure, ...]:
    """Voltage at every load in the low corner; empty if there is no store or no point."""
    if not any(device.kind == "storage" for device in problem.station.devices):
        return ()
    best: dict[str, CornerFigure] = {}
    for keyed in keyed_together(problem):
        drives = [low_drives(data, keyed) for data in problem.main]
        states = [low_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
        nothing = np.zeros((max(len(problem.network.seekers), 1), 2 * OFFER_POINTS))
        nothing[:, :OFFER_POINTS] = np.arange(OFFER_POINTS)
        for figure in _solved(problem, _Given(states, drives, nothing)):
            known = best.get(figure.device)
            if known is None or figure.voltage_v < known.voltage_v:
                best[figure.device] = figure
    return tuple(best.values())


def high_corner(problem: Problem) -> tuple[CornerFigure, ...]:
    """Voltage at every load in the high corner; empty if there is no operating point."""
    drives = [high_drives(problem, data) for data in problem.main]
    states = [high_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
    tables = tables_at(problem, tuple(at_its_best(problem, slots) for slots in problem.zones))
    return tuple(_solved(problem, _Given(states, drives, tables)))


def keyed_together(problem: Problem) -> list[frozenset[str]]:
    """Sets of radios keyed at once: all of them, or of each group that never is, one. Where those
    are too many, the thirstiest of each group, and each other one in its group's place."""
    radios = frozenset(d.name for d in problem.station.devices if d.model.keying is not None)
    groups = problem.station.never_together
    if prod(len(group) for group in groups) > MOST_WAYS:
        return _one_exchanged(problem, radios)
    choices = [radios]
    for group in groups:
        choices = [keyed - (frozenset(group) - {one}) for keyed in choices for one in (*group,)]
    return list(dict.fromkeys(choices))


def _one_exchanged(problem: Problem, radios: frozenset[str]) -> list[frozenset[str]]:
    """The largest of each group keyed, then the same with one exchanged, as in a run."""
    start_v = problem.network.main.start_v
    amps = {
        data.slot.device.name: keyed_amps(data, start_v)
        for data in problem.main
        if data.slot.device.name in radios
    }
    groups = problem.station.never_together
    largest = [max(group, key=lambda name: amps[name]) for group in groups]
    first = radios - {name for group in groups for name in group} | frozenset(largest)
    return [
        first,
        *(
            first - {one} | {other}
            for group, one in zip(groups, largest, strict=True)
            for other in group
            if other != one
        ),
    ]


def _solved(problem: Problem, given: _Given) -> list[CornerFigure]:
    circuit = dense(problem.network.main, problem.main)

    def offer(slot: int, v: Any, x: Any, d: Any, p: Any) -> Any:
        data = problem.main[slot]
        floor = data.slot.device.model.floor(v, x, d._replace(offer=0.0), p)
        return offers_at(given.tables[None, data.slot.seeks], np.atleast_1d(floor)[None])[0]

    inputs = Inputs(
        [[np.array([value]) for value in row] for row in given.states],
        [[np.array([value]) for value in row] for row in given.drives],
        offer,
    )
    volts = _operating_point(circuit, inputs)
    if volts is None:
        return []
    figures = []
    for data in problem.main:
        device = data.slot.device
        if device.kind == "load":
            powered, spare = device.model.powered, device.model.spare
            terminal = powered[0] if powered else data.shape.v_fields[0]
            node = data.slot.kept[data.shape.v_fields.index(terminal)]
            least = float(device.values[powered[1]]) if powered and not spare else None
            most = device.values.get(powered[1].removesuffix("_low") + "_high") if powered else None
            figures.append(
                CornerFigure(
                    device.name, float(volts[node]), least, None if most is None else float(most)
                )
            )
    return figures


def _operating_point(circuit: DenseCircuit, inputs: Inputs) -> FloatArray | None:
    """Volts (node,) from a fresh start, settled if a plain search finds none."""
    start = circuit.start_v[None].copy()
    volts, found = solve(circuit, start, inputs)
    if not found[0]:
        volts, found = solve(circuit, settle(circuit, start, inputs), inputs)
    return volts[0] if found[0] else None


def low_drives(data: SlotData, keyed: frozenset[str]) -> list[float]:
    """Demands at their most, the level at keyed, everything else (light, warmth) at its least."""
    model = data.slot.device.model
    row = []
    for name, values in zip(data.shape.d_fields, data.drives, strict=True):
        if name == "level":
            row.append(float(data.slot.device.name in keyed))
        elif name == model.demand:
            row.append(float(values.max()))
        else:
            row.append(float(values.min()))
    return row


def low_states(data: SlotData, drives: list[float]) -> list[float]:
    """States as they start, lags at their coldest, charge at the lowest planned."""
    device, model = data.slot.device, data.slot.device.model
    values = _coldest(data, drives)
    name = charge_state(device)
    if name is not None and model.lowest_planned is not None:
        volts = [0.0] * len(data.shape.v_fields)
        _, x, _, p = law_inputs(data, volts, values, drives)
        planned = float(model.lowest_planned(x, p)) + ABOVE_FLOOR
        place = [state.name for state in data.states].index(name)
        values[place] = min(planned, float(values[place]))
    return values


def _coldest(data: SlotData, drives: list[float]) -> list[float]:
    """States as they start, with lags at the least of the drive they follow."""
    values = [float(value) for value in data.initial]
    for place, state in enumerate(data.states):
        if isinstance(state, Lag) and state.initial in data.shape.d_fields:
            values[place] = drives[data.shape.d_fields.index(state.initial)]
    return values


def high_drives(problem: Problem, data: SlotData) -> list[float]:
    """Demands and level at nothing; of a source, all drives of the step at which it gives most;
    of the others each at its most, but for what a lag follows (the cold), at its least."""
    model = data.slot.device.model
    cold = panels_in_the_cold(data, problem.station.site.record_low_k)
    if cold is not None:
        return [float(value) for value in cold.drives[:, 0]]
    colder = followed_in_the_cold(problem, data)
    best = _best_step(data) if data.slot.device.kind == "source" else None
    followed = {state.initial for state in data.states if isinstance(state, Lag)}
    row = []
    for name, values in zip(data.shape.d_fields, data.drives, strict=True):
        if name in ("level", model.demand):
            row.append(0.0)
        elif best is not None:
            row.append(float(values[best]))
        else:
            least = min(float(values.min()), colder.get(name, np.inf))
            row.append(least if name in followed else float(values.max()))
    return row


def high_states(data: SlotData, drives: list[float]) -> list[float]:
    """Stores full, what gives awake, lags at their coldest."""
    values = _coldest(data, drives)
    for place, state in enumerate(data.states):
        if isinstance(state, Accumulator) and state.carries_charge:
            values[place] = state.high
        elif isinstance(state, Latch) and state.giving:
            values[place] = 1.0
    return values


def _best_step(data: SlotData) -> int:
    """The step at which a source gives most current into half of its highest voltage, among some
    evenly spread over the run."""
    device = data.slot.device
    pushes = float(device.values[device.model.pushes]) if device.model.pushes else 13.0
    steps = np.unique(np.linspace(0, data.drives.shape[1] - 1, TRIED_STEPS).astype(int))
    nodes = len(data.shape.v_fields)
    outside = range(nodes - len(device.model.inner))
    alone = DenseCircuit(
        circuit=None,
        slots=(replace(data, slot=replace(data.slot, kept=tuple(range(nodes)), seeks=-1)),),
        constant=LEAK_S * np.eye(nodes),
        incidence=np.zeros((0, nodes)),
        siemens=np.zeros(0),
        order=np.arange(nodes),
        start_v=np.full(nodes, pushes),
        most_v=np.full(nodes, max(1.0, pushes)),
    )
    inputs = Inputs(
        [[np.full(len(steps), float(value)) for value in data.initial]],
        [[row[steps] for row in data.drives]],
    )
    held = np.full((len(steps), nodes), 0.5 * pushes)
    volts, _ = solve(alone, held, inputs, held=list(outside))
    taken = assemble(alone, volts, inputs)[0][:, list(outside)].sum(axis=1)
    return int(steps[np.argmin(taken)])


def at_its_best(problem: Problem, slots: tuple[SlotData, ...]) -> tuple[SlotData, ...]:
    """A zone's devices, each with the drives of the step at which it gives most."""
    record_low_k = problem.station.site.record_low_k
    return tuple(
        panels_in_the_cold(data, record_low_k)
        or replace(data, drives=data.drives[:, [_best_step(data)]].copy())
        if data.slot.device.kind == "source"
        else replace(data, drives=data.drives.min(axis=1, keepdims=True))
        for data in slots
    )
