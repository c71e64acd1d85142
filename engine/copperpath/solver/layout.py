"""Where every number of a device stands in the one array of cells that kernels read and write.

Devices of one model lie side by side, so that one call serves them all and the compiler can do
several at once: blocks of LANES devices, and in a block one row of LANES cells for each number. A
device of a seeking model has a bank of its own, for it has its own table of offers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from copperpath.plugin_api import Model
from copperpath.solver.shapes import LawShape, law_shape

LANES = 4
"""Devices of a block: what one vector register of 256 bits holds."""


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of a model's block: the first of each group, and how many there are.

    Volts of the law's nodes, currents into them, watts of a seeking terminal and its floor, slopes
    (node by node, row by row), states, drives, parameters, signals.
    """

    volts: int
    amps: int
    watts: int
    floor: int
    slopes: int
    states: int
    drives: int
    parameters: int
    signals: int
    total: int


@cache
def rows_of(shape: LawShape) -> Rows:
    """The rows of a model of this shape."""
    nodes = len(shape.v_fields)
    seeks = int(shape.seek_place >= 0)
    sizes = [nodes, nodes, seeks, seeks, nodes * nodes]
    sizes += [len(shape.x_fields), len(shape.d_fields), len(shape.p_fields), shape.signals]
    begins = [sum(sizes[:place]) for place in range(len(sizes) + 1)]
    return Rows(*begins)


@dataclass(frozen=True, slots=True)
class Bank:
    """Devices that one call serves: their model, their slots in order, their first cell."""

    model: type[Model]
    slots: tuple[int, ...]
    first: int

    @property
    def cells(self) -> int:
        """How many cells it takes."""
        return -(-len(self.slots) // LANES) * rows_of(law_shape(self.model)).total * LANES

    def cell(self, place: int, row: int) -> int:
        """The cell of a row of the device at a place among `slots`."""
        block, lane = divmod(place, LANES)
        total = rows_of(law_shape(self.model)).total
        return self.first + (block * total + row) * LANES + lane


def banks_of(models: Sequence[type[Model]]) -> list[Bank]:
    """Banks for the models of a circuit's slots, in the order in which models first appear."""
    groups: dict[tuple[type[Model], int], list[int]] = {}
    for slot, model in enumerate(models):
        seeks = law_shape(model).seek_place >= 0
        groups.setdefault((model, slot if seeks else -1), []).append(slot)
    banks: list[Bank] = []
    first = 0
    for (model, _), slots in groups.items():
        banks.append(Bank(model, tuple(slots), first))
        first += banks[-1].cells
    return banks
