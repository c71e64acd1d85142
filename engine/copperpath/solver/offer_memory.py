"""Offers of source-side zones, remembered for the runs that follow on the same panels.

A zone's offers depend on its cables, panels and drives alone, so a what-if on the battery side, and
the days after a run (whose drives are the run's last), need not work them out again.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.curve import near
from copperpath.solver.flatten import FlatCircuit
from copperpath.solver.offers import Offering, make_full, make_thin

REMEMBERED = 8


@dataclass(frozen=True, slots=True)
class Offers:
    """Tables (time, 2 * OFFER_POINTS) of a zone, whether they are full (time,), open-circuit
    voltages (time,) and the ports' shares (time, port)."""

    tables: FloatArray
    full: np.ndarray
    tops: FloatArray
    shares: FloatArray

    def arrays(self) -> tuple[np.ndarray, ...]:
        """All of them, in this order."""
        return self.tables, self.full, self.tops, self.shares


_memory: deque[tuple[bytes, FloatArray, Offers]] = deque(maxlen=REMEMBERED)


def offers_of(flat: FlatCircuit, *, concave: bool) -> Offers:
    """The offers of a zone, from memory if the same zone had these drives at its end. `concave`:
    all that hangs on it is, so that thin tables will do."""
    key = _key(flat)
    steps = len(flat.drives)
    # A copy, for other threads remember theirs meanwhile.
    for known, drives, offers in tuple(_memory):
        if known == key and len(drives) >= steps and np.array_equal(drives[-steps:], flat.drives):
            return Offers(*(array[-steps:] for array in offers.arrays()))
    made = no_offers(flat)
    work_out(flat, made, concave=concave)
    for array in made.arrays():
        array.flags.writeable = False
    _memory.append((key, flat.drives, made))
    return made


def no_offers(flat: FlatCircuit) -> Offers:
    """Room for the offers of a zone."""
    steps = len(flat.drives)
    return Offers(
        np.zeros((steps, 2 * OFFER_POINTS)),
        np.zeros(steps, dtype=np.int8),
        np.zeros(steps),
        np.zeros((steps, len(flat.arrays.port))),
    )


def work_out(flat: FlatCircuit, offers: Offers, *, concave: bool) -> None:
    """Fill the offers of a zone in."""
    job = Offering(flat.drives, *offers.arrays())
    remembered, buffers = near(flat.arrays.nodes), flat.workspace()
    make = make_thin if concave else make_full
    make(flat.arrays.address, remembered.address, job.address, buffers.address)


def _key(flat: FlatCircuit) -> bytes:
    """All of a zone but its drives, as bytes."""
    arrays = [np.asarray(part) for part in flat.arrays.parts()]
    return b"|".join(array.tobytes() for array in (*arrays, flat.cells))
