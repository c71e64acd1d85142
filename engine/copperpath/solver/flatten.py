"""A problem as the flat arrays that the compiled loop reads."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from copperpath.network.circuit import Circuit
from copperpath.plugin_api import Accumulator, FloatArray, Lag, Latch
from copperpath.solver.kernels import kernel
from copperpath.solver.newton import CircuitArrays, Workspace, circuit_float, workspace
from copperpath.solver.problem import SlotData


def _whole(*names: str) -> list[tuple[str, type]]:
    return [(name, np.int64) for name in names]


BRANCH = np.dtype([*_whole("start", "end", "across", "back"), ("siemens", np.float64)])
"""Nodes of a branch, positions of its two entries off the diagonal, conductance."""
PIVOT = np.dtype(_whole("node", "first", "fill"))
"""Nodes in order of elimination, where their rows begin in `around` and in `fill`."""
AROUND = np.dtype(_whole("node", "lower", "upper"))
"""Neighbours of a pivot and the positions of the two entries that couple them."""
SLOT = np.dtype(
    _whole(
        "size", "first", "position", "state", "drive", "parameter", "zone", "law", "watch", "signal"
    )
)
"""A device: number of nodes; where its nodes, entries, states, drives, parameters and signals
begin; its zone, -1 for none; addresses of its kernels."""
LOWEST = np.dtype([*_whole("node", "drive"), ("volt", np.float64)])
"""Loads that say when they are powered: node, place of the demand, least voltage."""
STATE = np.dtype(
    [
        *_whole("kind", "signal", "set_steps", "clear_steps", "judged_worst"),
        *((name, np.float64) for name in ("low", "high", "keep")),
    ]
)
"""kind 0 accumulator (low, high), 1 latch (set_steps, clear_steps, judged_worst), 2 lag (keep: the
share of the old value that stays in a step). `signal` is where its signals begin."""


@dataclass(frozen=True, slots=True)
class FlatCircuit:
    """A circuit ready for compiled code.

    Attributes
    ----------
    arrays : CircuitArrays
    parameters : ndarray (all slots' parameters,)
    drives : ndarray (time, all slots' drives)
    initial : ndarray (all slots' states,)
    """

    arrays: CircuitArrays
    parameters: FloatArray
    drives: FloatArray
    initial: FloatArray
    entries: int
    largest: int

    def workspace(self) -> Workspace:
        """Buffers for one thread."""
        return workspace(self.entries, self.arrays.nodes, self.largest)


def flatten(circuit: Circuit, slots: tuple[SlotData, ...], steps: int) -> FlatCircuit:
    """Lay a circuit and its slots out."""
    plan = circuit.elimination
    positions = [
        plan.position[(a, b)] for data in slots for a in data.slot.nodes for b in data.slot.nodes
    ]
    branches = [
        (b.start, b.end, plan.position[b.start, b.end], plan.position[b.end, b.start], 1.0 / b.ohm)
        for b in circuit.branches
    ]
    port_row = [place for (row, _), place in plan.position.items() if row == circuit.port]
    pivots = zip([*plan.order, -1], plan.first, plan.fill_first, strict=True)
    around = zip(plan.neighbour, plan.lower, plan.upper, strict=True)
    drives = [data.drives for data in slots]
    arrays = CircuitArrays(
        nodes=len(circuit.nodes),
        port=circuit.port,
        port_row=_ints(port_row),
        branch=np.array(branches, dtype=BRANCH),
        pivot=np.array(list(pivots), dtype=PIVOT),
        around=np.array(list(around), dtype=AROUND),
        fill=plan.fill,
        slot=np.array(_slot_rows(slots), dtype=SLOT),
        slot_node=_ints([node for data in slots for node in data.slot.nodes]),
        slot_position=_ints(positions),
        lowest=np.array(_powered_places(slots), dtype=LOWEST),
    )
    return FlatCircuit(
        arrays,
        circuit_float([value for data in slots for value in data.parameters]),
        np.ascontiguousarray(np.concatenate([*drives, np.zeros((1, steps))]).T),
        circuit_float([value for data in slots for value in data.initial]),
        plan.entries,
        max([len(data.slot.nodes) for data in slots], default=1),
    )


def _slot_rows(slots: tuple[SlotData, ...]) -> list[tuple[int, ...]]:
    """Rows of SLOT."""
    rows: list[tuple[int, ...]] = []
    node = position = state = drive = parameter = signal = 0
    for data in slots:
        size, made = len(data.slot.nodes), kernel(data.slot.device.model)
        begins = (node, position, state, drive, parameter)
        rows.append((size, *begins, data.slot.seeks, made.law, made.watch, signal))
        node += size
        position += size * size
        state += len(data.states)
        drive += len(data.drives)
        parameter += len(data.parameters)
        signal += data.shape.signals
    return rows


def _powered_places(slots: tuple[SlotData, ...]) -> list[tuple[int, int, float]]:
    """Rows of LOWEST."""
    places = []
    first = 0
    for data in slots:
        model = data.slot.device.model
        if model.powered is not None:
            terminal, parameter = model.powered
            node = data.slot.nodes[data.shape.v_fields.index(terminal)]
            demand = first + data.shape.d_fields.index(model.demand)
            places.append((node, demand, float(data.values[parameter])))
        first += len(data.drives)
    return places


def flatten_states(slots: tuple[SlotData, ...], dt: float) -> np.ndarray:
    """States of the slots in order, as rows of STATE, with delays in whole steps (rounded up)."""
    rows = np.zeros(sum(len(data.states) for data in slots), dtype=STATE)
    place = signal = 0
    for data in slots:
        for state in data.states:
            row = rows[place]
            row["signal"] = signal
            if isinstance(state, Accumulator):
                row["low"], row["high"] = state.low, state.high
            elif isinstance(state, Latch):
                row["kind"] = 1
                row["set_steps"] = delay_steps(data, state.set_after, dt)
                row["clear_steps"] = delay_steps(data, state.clear_after, dt)
                row["judged_worst"] = state.judged == "worst"
            elif isinstance(state, Lag):
                tau = float(data.values[state.tau])
                row["kind"] = 2
                row["keep"] = math.exp(-dt / tau) if tau > 0.0 else 0.0
            place += 1
            signal += 2 if isinstance(state, Latch) else 1
    return rows


def delay_steps(data: SlotData, parameter: str, dt: float) -> int:
    """A delay in whole steps, at least one."""
    delay = float(data.values[parameter]) if parameter else 0.0
    return max(1, math.ceil(delay / dt))


def _ints(values: list[int]) -> np.ndarray:
    return np.array(values, dtype=np.int64)
