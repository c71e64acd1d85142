"""A problem as the flat arrays that the compiled loop reads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.network.circuit import Circuit
from copperpath.plugin_api import Accumulator, FloatArray, Lag, Latch
from copperpath.solver.kernels import kernel
from copperpath.solver.newton import CircuitArrays, Workspace, circuit_float, workspace
from copperpath.solver.problem import SlotData, delay_s, powered_load


def _whole(*names: str) -> list[tuple[str, type]]:
    return [(name, np.int64) for name in names]


BRANCH = np.dtype([*_whole("start", "end", "across", "back"), ("siemens", np.float64)])
"""Nodes of a branch, positions of its two entries off the diagonal, conductance."""
PORT_ROW = np.dtype([*_whole("position"), ("value", np.float64)])
"""Entries of the rows of held nodes, and what they become: 1 on the diagonal."""
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
LOWEST = np.dtype([*_whole("slot", "node", "drive", "rank"), ("volt", np.float64)])
"""Loads that say when they are powered: slot, node, place of the demand, rank (the highest is given
up first), least voltage."""
STATE = np.dtype(
    [
        *_whole("kind", "signal", "judged_worst"),
        *((name, np.float64) for name in ("low", "high", "set_s", "clear_s", "tau_s")),
    ]
)
"""kind 0 accumulator (low, high), 1 latch (delays set_s, clear_s, judged_worst), 2 lag (tau_s).
`signal` is where its signals begin."""

LAST_RANK = 1_000_000_000
"""Of loads without a priority, which are given up before those with one."""


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
        return workspace(self.entries, self.arrays.start_v, self.largest, len(self.arrays.slot))


def flatten(circuit: Circuit, slots: tuple[SlotData, ...], steps: int) -> FlatCircuit:
    """Lay a circuit and its slots out."""
    plan, merged = circuit.elimination, circuit.merged
    positions = [
        plan.position[(a, b)] for data in slots for a in data.slot.kept for b in data.slot.kept
    ]
    ends = zip(merged.start.tolist(), merged.end.tolist(), merged.ohm.tolist(), strict=True)
    branches = [(a, b, plan.position[a, b], plan.position[b, a], 1.0 / ohm) for a, b, ohm in ends]
    ports = [merged.nodes.index(port) for port in circuit.ports]
    port_rows = [
        (place, float(row == column))
        for (row, column), place in plan.position.items()
        if row in ports
    ]
    pivots = zip([*plan.order, -1], plan.first, plan.fill_first, strict=True)
    around = zip(plan.neighbour, plan.lower, plan.upper, strict=True)
    drives = [data.drives for data in slots]
    arrays = CircuitArrays(
        nodes=len(merged.nodes),
        port=_ints(ports),
        port_row=np.array(port_rows, dtype=PORT_ROW),
        start_v=np.array(circuit.start_v, dtype=np.float64),
        branch=np.array(branches, dtype=BRANCH),
        pivot=np.array(list(pivots), dtype=PIVOT),
        around=np.array(list(around), dtype=AROUND),
        fill=plan.fill,
        slot=np.array(_slot_rows(slots), dtype=SLOT),
        slot_node=_ints([node for data in slots for node in data.slot.kept]),
        slot_position=_ints(positions),
        lowest=np.array(_powered_places(slots), dtype=LOWEST),
    )
    return FlatCircuit(
        arrays,
        circuit_float([value for data in slots for value in data.parameters]),
        np.ascontiguousarray(np.concatenate([*drives, np.zeros((1, steps))]).T),
        circuit_float([value for data in slots for value in data.initial]),
        plan.entries,
        max([len(data.slot.kept) for data in slots], default=1),
    )


def _slot_rows(slots: tuple[SlotData, ...]) -> list[tuple[int, ...]]:
    """Rows of SLOT."""
    rows: list[tuple[int, ...]] = []
    node = position = state = drive = parameter = signal = 0
    for data in slots:
        size, made = len(data.slot.kept), kernel(data.slot.device.model)
        begins = (node, position, state, drive, parameter)
        rows.append((size, *begins, data.slot.seeks, made.law, made.watch, signal))
        node += size
        position += size * size
        state += len(data.states)
        drive += len(data.drives)
        parameter += len(data.parameters)
        signal += data.shape.signals
    return rows


def _powered_places(slots: tuple[SlotData, ...]) -> list[tuple[int, int, int, int, float]]:
    """Rows of LOWEST."""
    places = []
    first = 0
    for slot, data in enumerate(slots):
        load = powered_load(data)
        if load is not None:
            rank = LAST_RANK if data.slot.device.priority is None else data.slot.device.priority
            places.append((slot, load.node, first + load.drive, rank, load.lowest_v))
        first += len(data.drives)
    return places


def flatten_states(slots: tuple[SlotData, ...]) -> np.ndarray:
    """States of the slots in order, as rows of STATE."""
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
                row["set_s"] = delay_s(data, state.set_after)
                row["clear_s"] = delay_s(data, state.clear_after)
                row["judged_worst"] = state.judged == "worst"
            elif isinstance(state, Lag):
                row["kind"] = 2
                row["tau_s"] = float(data.values[state.tau])
            place += 1
            signal += 2 if isinstance(state, Latch) else 1
    return rows


def _ints(values: list[int]) -> np.ndarray:
    return np.array(values, dtype=np.int64)
