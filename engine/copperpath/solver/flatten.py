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
    kernels = [kernel(data.slot.device.model) for data in slots]
    sizes = [len(data.slot.nodes) for data in slots]
    positions = [
        plan.position[(a, b)] for data in slots for a in data.slot.nodes for b in data.slot.nodes
    ]
    branches = circuit.branches
    branch_positions = [
        plan.position[pair] for b in branches for pair in ((b.start, b.end), (b.end, b.start))
    ]
    port_row = [place for (row, _), place in plan.position.items() if row == circuit.port]
    lowest = _powered_places(slots)
    drives = [data.drives for data in slots]
    arrays = CircuitArrays(
        nodes=len(circuit.nodes),
        port=circuit.port,
        port_row=_ints(port_row),
        branch_start=_ints([b.start for b in branches]),
        branch_end=_ints([b.end for b in branches]),
        branch_siemens=np.array([1.0 / b.ohm for b in branches]),
        branch_position=_ints(branch_positions),
        order=plan.order,
        first=plan.first,
        neighbour=plan.neighbour,
        lower=plan.lower,
        upper=plan.upper,
        fill_first=plan.fill_first,
        fill=plan.fill,
        slot_size=_ints(sizes),
        slot_first=_offsets(sizes),
        slot_node=_ints([node for data in slots for node in data.slot.nodes]),
        slot_position_first=_offsets([size * size for size in sizes]),
        slot_position=_ints(positions),
        slot_state=_offsets([len(data.states) for data in slots]),
        slot_drive=_offsets([len(data.drives) for data in slots]),
        slot_parameter=_offsets([len(data.parameters) for data in slots]),
        slot_zone=_ints([data.slot.seeks for data in slots]),
        law=_ints([k.law for k in kernels]),
        watch=_ints([k.watch for k in kernels]),
        lowest_slot=_ints([place[0] for place in lowest]),
        lowest_place=_ints([place[1] for place in lowest]),
        lowest_volt=np.array([place[2] for place in lowest], dtype=np.float64),
        lowest_drive=_ints([place[3] for place in lowest]),
    )
    return FlatCircuit(
        arrays,
        circuit_float([value for data in slots for value in data.parameters]),
        np.ascontiguousarray(np.concatenate([*drives, np.zeros((1, steps))]).T),
        circuit_float([value for data in slots for value in data.initial]),
        plan.entries,
        max([*sizes, 1]),
    )


def _powered_places(slots: tuple[SlotData, ...]) -> list[tuple[int, int, float, int]]:
    """(slot, terminal, lowest volts, place of the demand drive) of every load that says so."""
    places = []
    first = 0
    for index, data in enumerate(slots):
        model = data.slot.device.model
        if model.powered is not None:
            terminal, parameter = model.powered
            demand = data.shape.d_fields.index(model.demand)
            volts = float(data.values[parameter])
            places.append((index, data.shape.v_fields.index(terminal), volts, first + demand))
        first += len(data.drives)
    return places


@dataclass(frozen=True, slots=True)
class FlatStates:
    """The states of all slots, as arrays (state,).

    kind 0 accumulator (low, high), 1 latch (set_steps, clear_steps, judged_worst), 2 lag (keep:
    the share of the old value that stays in a step). `signal` is where a state's signals begin.
    """

    kind: np.ndarray
    slot: np.ndarray
    signal: np.ndarray
    low: np.ndarray
    high: np.ndarray
    set_steps: np.ndarray
    clear_steps: np.ndarray
    judged_worst: np.ndarray
    keep: np.ndarray
    slot_signal: np.ndarray
    signals: int


def flatten_states(slots: tuple[SlotData, ...], dt: float) -> FlatStates:
    """States of the slots in order, with delays in whole steps (rounded up)."""
    rows: list[tuple[float, ...]] = []
    slot_signal: list[int] = []
    signal = 0
    for index, data in enumerate(slots):
        slot_signal.append(signal)
        for state in data.states:
            row = [0.0, index, signal, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0]
            if isinstance(state, Accumulator):
                row[3], row[4] = state.low, state.high
            elif isinstance(state, Latch):
                row[0] = 1.0
                row[5] = delay_steps(data, state.set_after, dt)
                row[6] = delay_steps(data, state.clear_after, dt)
                row[7] = float(state.judged == "worst")
                signal += 1
            elif isinstance(state, Lag):
                row[0] = 2.0
                tau = float(data.values[state.tau])
                row[8] = math.exp(-dt / tau) if tau > 0.0 else 0.0
            signal += 1
            rows.append(tuple(row))
    table = np.array(rows or [(0.0,) * 9], dtype=np.float64)[: len(rows)].T
    whole = table.astype(np.int64)
    return FlatStates(
        kind=np.ascontiguousarray(whole[0]),
        slot=np.ascontiguousarray(whole[1]),
        signal=np.ascontiguousarray(whole[2]),
        low=np.ascontiguousarray(table[3]),
        high=np.ascontiguousarray(table[4]),
        set_steps=np.ascontiguousarray(whole[5]),
        clear_steps=np.ascontiguousarray(whole[6]),
        judged_worst=np.ascontiguousarray(whole[7]),
        keep=np.ascontiguousarray(table[8]),
        slot_signal=_ints(slot_signal),
        signals=signal,
    )


def delay_steps(data: SlotData, parameter: str, dt: float) -> int:
    """A delay in whole steps, at least one."""
    delay = float(data.values[parameter]) if parameter else 0.0
    return max(1, math.ceil(delay / dt))


def _ints(values: list[int]) -> np.ndarray:
    return np.array(values, dtype=np.int64)


def _offsets(sizes: list[int]) -> np.ndarray:
    return np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.int64) if sizes else _ints([])
