"""Quantities at the border between text and numbers."""

from copperpath.quantities.dimensions import MEANINGS, Meaning
from copperpath.quantities.literals import Quantity, believable, fits, read_measure
from copperpath.quantities.show import show, written
from copperpath.quantities.units import UnitProblem, near_units, read_unit

__all__ = [
    "MEANINGS",
    "Meaning",
    "Quantity",
    "UnitProblem",
    "believable",
    "fits",
    "near_units",
    "read_measure",
    "read_unit",
    "show",
    "written",
]
