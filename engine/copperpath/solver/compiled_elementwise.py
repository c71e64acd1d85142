"""The law helpers as the compiled loop sees them: same names, floats only.

Generated kernels import from here. `tests/engine/solver` holds each against its numpy twin in
`copperpath.plugin_api.elementwise`.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.solver.cache import compiled
from copperpath.solver.constants import OFFER_POINTS


@compiled
def where(condition: Any, yes: Any, no: Any) -> Any:
    """`yes` if the condition holds, else `no`."""
    if condition:
        return yes
    return no


@compiled
def between(x: Any, low: Any, high: Any) -> Any:
    """x, but not below `low` nor above `high`."""
    return min(max(x, low), high)


@compiled
def table(x: Any, xs: Any, ys: Any) -> Any:
    """Straight lines through the points (xs, ys), level beyond both ends."""
    if np.isnan(x):
        return x
    if x <= xs[0]:
        return ys[0]
    for place in range(1, len(xs)):
        if x <= xs[place]:
            slope = (ys[place] - ys[place - 1]) / (xs[place] - xs[place - 1])
            return slope * (x - xs[place - 1]) + ys[place - 1]
    return ys[len(ys) - 1]


@compiled
def constant_power(v: Any, watts: Any, lowest: Any) -> Any:
    """watts/v above `lowest`, below it the resistor that meets that curve there."""
    return watts * min(v, lowest) / (lowest * max(v, lowest))


@compiled
def constant_current(v: Any, amps: Any, lowest: Any) -> Any:
    """amps above `lowest`, a straight line to nothing at half of it, nothing below."""
    return amps * min(max(2.0 * v / lowest - 1.0, 0.0), 1.0)


@compiled
def offer_at(points: Any, floor: Any) -> Any:
    """Most power [W] at or above the voltage `floor`; `points` holds OFFER_POINTS rising
    voltages and then as many falling powers. Chords lie below the curve, so the power is there."""
    if floor <= points[0]:
        return points[OFFER_POINTS]
    for place in range(1, OFFER_POINTS):
        if floor <= points[place]:
            left, right = points[place - 1], points[place]
            share = (floor - left) / max(right - left, 1e-12)
            above = points[OFFER_POINTS + place - 1]
            return above + share * (points[OFFER_POINTS + place] - above)
    return points[2 * OFFER_POINTS - 1]
