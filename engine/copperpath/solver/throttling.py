"""Where a source-side zone stands when less than its most is taken, compiled; after the loop."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.solver.assembly import copy, fill_in
from copperpath.solver.cache import compiled, merged
from copperpath.solver.constants import (
    ALL_OF_IT,
    OFFER_POINTS,
    ROUNDS,
)
from copperpath.solver.curve import open_circuit, port_power


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


@compiled
def throttle(c: Any, drives: Any, w: Any, points: Any, tops: Any, wanted: Any, volts: Any) -> None:
    """Zone voltages (time, column, node) at which the zone gives `wanted` (time, column) [W]."""
    v = np.zeros(c.nodes)
    for t in range(wanted.shape[0]):
        fill_in(w, c.drive, drives[t])
        for column in range(wanted.shape[1]):
            want = wanted[t, column]
            if column > 0 and want == wanted[t, column - 1]:
                copy(volts[t, column], volts[t, column - 1])
                continue
            v[:] = tops[t]
            if want <= 0.0:
                # Twice, for the first search may end on a corner's wrong side.
                open_circuit(c, v, w)
                open_circuit(c, v, w)
                copy(volts[t, column], v)
                continue
            at = voltage_for(c, want, points[t, 0], points[t, OFFER_POINTS], tops[t], v, w)
            port_power(c, at, v, w)
            copy(volts[t, column], v)
