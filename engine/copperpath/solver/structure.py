"""Where everything of a circuit stands in its arrays, whatever its values.

Cases of one network differ in values alone, so what is found here is remembered for them.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.network.circuit import Circuit
from copperpath.solver.circuit_arrays import BANK, JOINT, PORT_ROW, SLOPE
from copperpath.solver.elimination_rows import elimination_rows
from copperpath.solver.kernels import kernel
from copperpath.solver.layout import LANES, Bank, Rows, banks_of, rows_of
from copperpath.solver.problem import SlotData
from copperpath.solver.shapes import law_shape

REMEMBERED = 64


@dataclass(frozen=True, slots=True)
class Place:
    """Where one slot's numbers stand: its bank, and which of the bank's devices it is."""

    bank: Bank
    index: int
    rows: Rows

    def cells(self, first_row: int, count: int) -> list[int]:
        """Cells of some rows."""
        block, lane = divmod(self.index, LANES)
        start = self.bank.first + (block * self.rows.total + first_row) * LANES + lane
        return list(range(start, start + LANES * count, LANES))


@dataclass(frozen=True, slots=True)
class Structure:
    """The banks of a circuit's devices, the place of each slot, and the fields of `CircuitArrays`
    that hold no value of a device or branch."""

    banks: tuple[Bank, ...]
    places: tuple[Place, ...]
    tables: dict[str, Any]


_known: dict[Hashable, Structure] = {}


def structure(circuit: Circuit, slots: tuple[SlotData, ...]) -> Structure:
    """The structure of a circuit, from memory if another one had it too."""
    merged = circuit.merged
    devices = tuple((data.slot.device.model, data.slot.kept, data.slot.seeks) for data in slots)
    joined = merged.start.tobytes(), merged.end.tobytes()
    key = merged.nodes, circuit.ports, joined, circuit.elimination.order.tobytes(), devices
    found = _known.get(key)
    if found is None:
        if len(_known) >= REMEMBERED:
            _known.clear()
        found = _known[key] = _structure(circuit, slots)
    return found


def _structure(circuit: Circuit, slots: tuple[SlotData, ...]) -> Structure:
    plan, merged = circuit.elimination, circuit.merged
    banks = banks_of([data.slot.device.model for data in slots])
    places = _places(banks, slots)
    ports = [merged.nodes.index(port) for port in circuit.ports]
    port_rows = [
        (place, float(row == column))
        for (row, column), place in plan.position.items()
        if row in ports
    ]
    order = elimination_rows(plan)
    tables = {
        "port": np.array(ports, dtype=np.int64),
        "port_row": np.array(port_rows, dtype=PORT_ROW),
        "tips": order.tips,
        "hanging": order.hanging,
        "group": order.group,
        "pivot": order.pivot,
        "around": order.around,
        "fill": order.fill,
        "bank": np.array([_bank_row(bank, slots) for bank in banks], dtype=BANK),
        "joint": np.array(_joints(slots, places), dtype=JOINT),
        "slope": np.array(_slopes(circuit, slots, places), dtype=SLOPE),
        "state": _cells(slots, places, "states", "x_fields"),
        "drive": _cells(slots, places, "drives", "d_fields"),
        "signal": _signals(slots, places),
    }
    return Structure(tuple(banks), tuple(places), tables)


def _places(banks: list[Bank], slots: tuple[SlotData, ...]) -> list[Place]:
    """The place of each slot."""
    found = {
        slot: Place(bank, index, rows_of(law_shape(bank.model)))
        for bank in banks
        for index, slot in enumerate(bank.slots)
    }
    return [found[slot] for slot in range(len(slots))]


def _bank_row(bank: Bank, slots: tuple[SlotData, ...]) -> tuple[int, ...]:
    """A row of BANK."""
    made = kernel(bank.model)
    seeker = slots[bank.slots[0]].slot.seeks
    floor = bank.first + LANES * rows_of(law_shape(bank.model)).floor if seeker >= 0 else 0
    return made.law, made.watch, bank.first, len(bank.slots), max(seeker, 0), floor


def _joints(slots: tuple[SlotData, ...], places: list[Place]) -> list[tuple[int, ...]]:
    """Rows of JOINT."""
    rows: list[tuple[int, ...]] = []
    for slot, (data, place) in enumerate(zip(slots, places, strict=True)):
        nodes = data.slot.kept
        volts = place.cells(place.rows.volts, len(nodes))
        amps = place.cells(place.rows.amps, len(nodes))
        rows += [(*row, slot) for row in zip(nodes, volts, amps, strict=True)]
    return rows


def _slopes(
    circuit: Circuit, slots: tuple[SlotData, ...], places: list[Place]
) -> list[tuple[int, ...]]:
    """Rows of SLOPE."""
    position = circuit.elimination.position
    rows: list[tuple[int, ...]] = []
    for slot, (data, place) in enumerate(zip(slots, places, strict=True)):
        nodes = data.slot.kept
        cells = place.cells(place.rows.slopes, len(nodes) ** 2)
        pairs = [(a, b) for a in nodes for b in nodes]
        rows += [
            (position[pair], cell, pair[1], slot) for pair, cell in zip(pairs, cells, strict=True)
        ]
    return rows


def _cells(slots: tuple[SlotData, ...], places: list[Place], group: str, fields: str) -> Any:
    """Cells of all slots' states or drives, in the order of slots."""
    found: list[int] = []
    for data, place in zip(slots, places, strict=True):
        found += place.cells(getattr(place.rows, group), len(getattr(data.shape, fields)))
    return np.array(found, dtype=np.uint32)


def _signals(slots: tuple[SlotData, ...], places: list[Place]) -> Any:
    """Cells of all slots' signals, in the order of slots."""
    found: list[int] = []
    for data, place in zip(slots, places, strict=True):
        found += place.cells(place.rows.signals, data.shape.signals)
    return np.array(found, dtype=np.uint32)
