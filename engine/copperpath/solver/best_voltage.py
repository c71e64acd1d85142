"""The voltage at which a source-side zone gives the most power, compiled.

The zero of the power's slope. A zone of concave sources has one, so that any bracket will do; in
others a scan first finds the highest of several humps.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.solver.cache import merged
from copperpath.solver.constants import ROUNDS, SCAN, SCAN_FROM, SLOPE_SHARE
from copperpath.solver.curve import (
    ABOVE,
    ROUGH_V,
    SCANNED,
    expect,
    follow,
    lean,
    port_power,
    power_slope,
    remember,
    sweep,
)

CONCAVE_FROM = 0.45
"""A concave curve has its hump above this share of open circuit: it lies above the straight line
to there, whose hump is at half of it."""


@merged
def quick_best(
    c: Any,
    n: Any,
    low: float,
    high: float,
    width: float,
    at: float,
    v: Any,
    w: Any,
) -> float:
    """Where the slope of power crosses zero, by secants from a good guess; NaN if they stray."""
    bend, enough = n.best[2], 1e-9 * high
    slope = power_slope(c, n, at, width, v, w)
    for _ in range(6):
        further = at - slope / bend
        if not (low < further < high):
            return np.nan
        if abs(further - at) < enough:
            n.best[2] = bend
            lean(n, further - at - width, width, further, v)
            return float(further)
        lean(n, further - at, width, further + width, v)
        there = power_slope(c, n, further, width, v, w)
        bend = (there - slope) / (further - at)
        if not bend < 0.0:
            return np.nan
        at, slope, enough = further, there, 2e-8 * high
    return np.nan


@merged
def bracket(
    c: Any,
    n: Any,
    low: float,
    peak: float,
    high: float,
    width: float,
    v: Any,
    w: Any,
) -> tuple[float, float]:
    """Voltages around a hump, given one of them and a point between that lies higher than both: a
    valley next to the hump may let the power rise again towards an end."""
    most = port_power(c, peak, v, w)
    for _ in range(ROUNDS):
        if power_slope(c, n, high, width, v, w) < 0.0:
            break
        middle = 0.5 * (peak + high)
        power = port_power(c, middle, v, w)
        if power > most:
            peak, most = middle, power
        else:
            high = middle
    for _ in range(ROUNDS):
        if power_slope(c, n, low, width, v, w) > 0.0:
            break
        middle = 0.5 * (peak + low)
        power = port_power(c, middle, v, w)
        if power > most:
            peak, most = middle, power
        else:
            low = middle
    return low, high


@merged
def zero_slope(c: Any, n: Any, low: float, high: float, width: float, v: Any, w: Any) -> float:
    """Where the slope of power crosses zero from above between low and high (Illinois)."""
    n.best[3] = 0.0
    slope_low = power_slope(c, n, low, width, v, w)
    slope_high = power_slope(c, n, high, width, v, w)
    if not slope_low > 0.0:
        return low
    if not slope_high < 0.0:
        return high
    side = 0
    for _ in range(ROUNDS):
        at = (low * slope_high - high * slope_low) / (slope_high - slope_low)
        if not (low < at < high):
            at = 0.5 * (low + high)
        slope = power_slope(c, n, at, width, v, w)
        if slope > 0.0:
            n.best[2] = (slope - slope_low) / (at - low)
            low, slope_low = at, slope
            if side == 1:
                slope_high *= 0.5
            side = 1
        else:
            n.best[2] = (slope - slope_high) / (at - high)
            high, slope_high = at, slope
            if side == -1:
                slope_low *= 0.5
            side = -1
        if high - low < 1e-12 * high or slope == 0.0:
            return float(at)
    return 0.5 * (low + high)


@merged
def scanned(c: Any, n: Any, known: int, top: float, v: Any, w: Any) -> float:
    """The voltage of the scan's best point."""
    best, most = top, 0.0
    gap = (1.0 - SCAN_FROM) * top / (SCAN - 1)
    remember(n, SCANNED, known, top, v)
    row, at = SCANNED + 1, SCAN_FROM * top + (SCAN - 2) * gap
    expect(n, row, SCANNED, SCANNED, known, at, v)
    sweep(c, n, row, SCAN - 1, SCANNED, at, -gap, known, ROUGH_V, v, w)
    for place in range(1, SCAN):
        if n.power[SCANNED + place] > most:
            best, most = SCAN_FROM * top + (SCAN - 1 - place) * gap, n.power[SCANNED + place]
    return float(best)


@merged
def best_guessed(
    c: Any,
    n: Any,
    low: float,
    high: float,
    top: float,
    leader: int,
    v: Any,
    w: Any,
) -> float:
    """The best voltage from where it was a step ago; NaN if that does not lead there. `leader` is a
    row that has moved as the best point has."""
    width = SLOPE_SHARE * top
    guess = (n.best[0] + (n.best[1] if n.best[3] > 1.0 else 0.0)) * top
    if not (n.best[3] > 0.0 and low + width < guess < high - width):
        return np.nan
    follow(n, ABOVE, leader, guess + width, v)
    return float(quick_best(c, n, low, high, width, guess, v, w))


@merged
def keep_best(n: Any, best: float, top: float, inside: bool) -> None:
    """Remember where the best voltage is for the step to come."""
    n.best[1] = best / top - n.best[0]
    n.best[0] = best / top
    n.best[3] = n.best[3] + 1.0 if inside else 0.0


@merged
def best_scanned(c: Any, n: Any, known: int, top: float, v: Any, w: Any) -> float:
    """The voltage of most power, around the best point of a scan."""
    peak = scanned(c, n, known, top, v, w)
    gap = (1.0 - SCAN_FROM) * top / (SCAN - 1)
    low, high = max(peak - gap, 0.05 * top), min(peak + gap, top)
    best = np.nan
    if known == 1:
        row = SCANNED + SCAN - 1 - round((peak - SCAN_FROM * top) / gap)
        best = best_guessed(c, n, low, high, top, row, v, w)
    if not np.isfinite(best):
        width = SLOPE_SHARE * top
        low, high = bracket(c, n, low, peak, high, width, v, w)
        best = zero_slope(c, n, low, high, width, v, w)
    keep_best(n, best, top, low < best < high)
    return float(best)


@merged
def best_concave(c: Any, n: Any, known: int, top: float, v: Any, w: Any) -> float:
    """The voltage of most power of a zone of concave sources, which have one hump. The first row
    of the table is the best point of the step before."""
    low = CONCAVE_FROM * top
    best = np.nan
    if known == 1:
        best = best_guessed(c, n, low, top, top, 0, v, w)
    if not np.isfinite(best):
        best = zero_slope(c, n, low, top, SLOPE_SHARE * top, v, w)
    keep_best(n, best, top, low < best < top)
    return float(best)
