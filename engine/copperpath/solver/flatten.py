"""A problem as the flat arrays that the compiled loop reads."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from copperpath.network.circuit import Circuit, Merged
from copperpath.plugin_api import Accumulator, FloatArray, Lag, Latch
from copperpath.solver.circuit_arrays import (
    BRANCH,
    FAN,
    LOWEST,
    STATE,
    CircuitArrays,
    Workspace,
    workspace,
)
from copperpath.solver.constants import LEAK_S
from copperpath.solver.curve import port_power_apart, seek_apart, sweep_apart
from copperpath.solver.layout import Bank
from copperpath.solver.newton import settle_apart, solve_apart, solve_quiet_apart
from copperpath.solver.problem import SlotData, delay_s, powered_load
from copperpath.solver.structure import Place, structure


@dataclass(frozen=True, slots=True)
class FlatCircuit:
    """A circuit ready for compiled code.

    Attributes
    ----------
    arrays : CircuitArrays
    cells : ndarray
        The numbers of all devices (see `layout.py`), parameters and first states filled in.
    drives : ndarray (time, all slots' drives)
        In the order of slots, like `arrays.drive`, their cells.
    """

    arrays: CircuitArrays
    cells: FloatArray
    drives: FloatArray

    def workspace(self) -> Workspace:
        """Buffers for one thread."""
        arrays = self.arrays
        return workspace(self.cells, arrays.slots, len(arrays.still), arrays.start_v)


def flatten(circuit: Circuit, slots: tuple[SlotData, ...], steps: int) -> FlatCircuit:
    """Lay a circuit and its slots out."""
    found = structure(circuit, slots)
    branch, fan = _branches(circuit.merged)
    arrays = CircuitArrays(
        nodes=len(circuit.merged.nodes),
        slots=len(slots),
        start_v=np.array(circuit.start_v, dtype=np.float64),
        branch=branch,
        fan=fan,
        still=_still(circuit),
        lowest=np.array(_powered_places(slots, found.places), dtype=LOWEST),
        solve=solve_apart.address,
        solve_quiet=solve_quiet_apart.address,
        settle=settle_apart.address,
        seek=seek_apart.address,
        sweep=sweep_apart.address,
        port_power=port_power_apart.address,
        **found.tables,
    )
    return FlatCircuit(arrays, _filled(found.banks, slots, found.places), _drives(slots, steps))


def over(flat: FlatCircuit, slots: tuple[SlotData, ...], steps: int) -> FlatCircuit:
    """The same circuit and devices over other steps."""
    return replace(flat, drives=_drives(slots, steps))


def _drives(slots: tuple[SlotData, ...], steps: int) -> FloatArray:
    """All slots' drives, a row a step; never empty, so that the address is valid."""
    rows = [data.drives for data in slots]
    return np.ascontiguousarray(np.concatenate([*rows, np.zeros((1, steps))]).T)


def _branches(merged: Merged) -> tuple[np.ndarray, np.ndarray]:
    """Rows of BRANCH and FAN; each branch counts to the fan of its end with more branches."""
    ends = list(zip(merged.start.tolist(), merged.end.tolist(), merged.ohm, strict=True))
    meeting = Counter(node for a, b, _ in ends for node in (a, b))
    fans: dict[int, list[tuple[int, float]]] = {}
    for a, b, ohm in ends:
        near, far = (a, b) if meeting[a] >= meeting[b] else (b, a)
        fans.setdefault(near, []).append((far, 1.0 / ohm))
    rows = [row for fan in fans.values() for row in fan]
    begins = np.cumsum([0, *(len(fan) for fan in fans.values())]).tolist()
    fan_rows = list(zip(fans, begins[:-1], begins[1:], strict=True))
    return np.array(rows, dtype=BRANCH), np.array(fan_rows, dtype=FAN)


def _still(circuit: Circuit) -> FloatArray:
    """Matrix entries of leak and branches, which never change."""
    plan, merged = circuit.elimination, circuit.merged
    still = np.zeros(plan.entries)
    still[: len(merged.nodes)] = LEAK_S
    for a, b, ohm in zip(merged.start.tolist(), merged.end.tolist(), merged.ohm, strict=True):
        for node in (a, b):
            still[node] += 1.0 / ohm
        for entry in ((a, b), (b, a)):
            still[plan.position[entry]] -= 1.0 / ohm
    return still


def _filled(
    banks: Sequence[Bank], slots: tuple[SlotData, ...], places: Sequence[Place]
) -> FloatArray:
    """The cells with parameters and first states; never empty, so that the address is valid."""
    cells = np.zeros(max(sum(bank.cells for bank in banks), 1))
    for data, place in zip(slots, places, strict=True):
        cells[place.cells(place.rows.parameters, len(data.parameters))] = data.parameters
        cells[place.cells(place.rows.states, len(data.initial))] = data.initial
    return cells


def _powered_places(
    slots: tuple[SlotData, ...], places: Sequence[Place]
) -> list[tuple[int, int, int, int, float]]:
    """Rows of LOWEST."""
    rows = []
    for slot, (data, place) in enumerate(zip(slots, places, strict=True)):
        load = powered_load(data)
        if load is not None:
            rank = data.slot.device.rank
            wanted = place.cells(place.rows.drives + load.drive, 1)[0]
            rows.append((slot, load.node, wanted, rank, load.lowest_v))
    return rows


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


def level_places(slots: tuple[SlotData, ...]) -> np.ndarray:
    """Where the levels of keyed devices stand among all slots' drives."""
    begins = np.cumsum([0, *(len(data.shape.d_fields) for data in slots)])
    return np.array(
        [int(begins[k]) + d.level_at for k, d in enumerate(slots) if d.level_at >= 0],
        dtype=np.int64,
    )
