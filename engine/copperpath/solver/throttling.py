"""Where a source-side zone stands when less than its most is taken, compiled; after the loop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.solver.assembly import copy, fill, fill_in
from copperpath.solver.cache import merged, part
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT
from copperpath.solver.constants import (
    ALL_OF_IT,
    OFFER_POINTS,
    ROUNDS,
)
from copperpath.solver.curve import open_circuit, port_power
from copperpath.solver.places import Places, PlacesType, array


@merged
def voltage_for(
    c: Any,
    wanted: float,
    best: float,
    most: float,
    top: float,
    v: Any,
    w: Any,
) -> float:
    """The port voltage on the high side of the hump at which the zone gives `wanted` [W]."""
    if wanted >= ALL_OF_IT * most:
        return best
    low, high = best, top
    over = most - wanted
    under = port_power(c, top, v, w) - wanted
    side = 0
    goal = 1e-12 * most
    at = low
    for _ in range(ROUNDS):
        at = (low * under - high * over) / (under - over)
        if not (low < at < high):
            at = 0.5 * (low + high)
        miss = port_power(c, at, v, w) - wanted
        if abs(miss) <= goal or high - low < 1e-14 * high:
            return float(at)
        if miss > 0.0:
            low, over = at, miss
            if side == 1:
                under *= 0.5
            side = 1
        else:
            high, under = at, miss
            if side == -1:
                over *= 0.5
            side = -1
    return float(at)


@dataclass(frozen=True, eq=False)
class Throttling(Places):
    """What `throttle` reads and writes: drives (time, all slots'), tables of offers (time, 2 *
    OFFER_POINTS), open-circuit voltages (time,), the power wanted (time, column) [W], and the
    zone's voltages at which it gives that (time, column, node)."""

    drives: Any = array(np.float64, 2)
    tables: Any = array(np.float64, 2)
    tops: Any = array(np.float64)
    wanted: Any = array(np.float64, 2)
    volts: Any = array(np.float64, 3)


@part(CIRCUIT, PlacesType(Throttling), BUFFERS)
def throttle(c: Any, job: Any, w: Any) -> int:
    """Fill in the zone's voltages."""
    wanted, volts = job.wanted, job.volts
    v = w.spare
    for t in range(wanted.shape[0]):
        fill_in(w, c.drive, job.drives[t])
        points = job.tables[t]
        for column in range(wanted.shape[1]):
            want = wanted[t, column]
            if column > 0 and want == wanted[t, column - 1]:
                copy(volts[t, column], volts[t, column - 1])
                continue
            fill(v, job.tops[t])
            if want <= 0.0:
                # Twice, for the first search may end on a corner's wrong side.
                open_circuit(c, v, w)
                open_circuit(c, v, w)
                copy(volts[t, column], v)
                continue
            at = voltage_for(c, want, points[0], points[OFFER_POINTS], job.tops[t], v, w)
            port_power(c, at, v, w)
            copy(volts[t, column], v)
    return 0
