"""What a source-side zone can give, compiled: most power against lowest admissible voltage.

The ports of the zone are held at chosen voltages and their current read. A scan finds the best
bracket (right for several humps), then the zero of the power's slope inside it is found. Made
before the time loop; it depends on drives only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.solver.assembly import fill, fill_in
from copperpath.solver.cache import inner, merged, part
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT
from copperpath.solver.constants import (
    OFFER_POINTS,
    ROUNDS,
    SCAN,
    SCAN_FROM,
    SLOPE_SHARE,
)
from copperpath.solver.curve import (
    ABOVE,
    CLOSE_V,
    NEAR,
    ROUGH_V,
    SCANNED,
    expect,
    follow,
    lean,
    open_near,
    port_power,
    power_slope,
    remember,
    sweep,
)
from copperpath.solver.places import Places, PlacesType, array


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
def best_voltage(
    c: Any,
    n: Any,
    low: float,
    peak: float,
    high: float,
    width: float,
    v: Any,
    w: Any,
) -> float:
    """Where the slope of power crosses zero from above between low and high (Illinois); at `peak`
    the power is higher than at both."""
    n.best[3] = 0.0
    slope_low = power_slope(c, n, low, width, v, w)
    slope_high = power_slope(c, n, high, width, v, w)
    if not slope_low > 0.0 or not slope_high < 0.0:
        low, high = bracket(c, n, low, peak, high, width, v, w)
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
def best_near(c: Any, n: Any, known: int, peak: float, top: float, v: Any, w: Any) -> float:
    """The voltage of most power around the scan's best point, from where it was a step ago."""
    gap = (1.0 - SCAN_FROM) * top / (SCAN - 1)
    low, high = max(peak - gap, 0.05 * top), min(peak + gap, top)
    width = SLOPE_SHARE * top
    best = np.nan
    guess = (n.best[0] + (n.best[1] if n.best[3] > 1.0 else 0.0)) * top
    if known == 1 and n.best[3] > 0.0 and low + width < guess < high - width:
        row = SCANNED + SCAN - 1 - round((peak - SCAN_FROM * top) / gap)
        follow(n, ABOVE, row, guess + width, v)
        best = quick_best(c, n, low, high, width, guess, v, w)
    if not np.isfinite(best):
        best = best_voltage(c, n, low, peak, high, width, v, w)
    n.best[1] = best / top - n.best[0]
    n.best[0] = best / top
    n.best[3] = n.best[3] + 1.0 if low < best < high else 0.0
    return float(best)


@inner
def port_shares(c: Any, w: Any, shares: Any) -> None:
    """What part of the power each port draws, right after `port_power`; equal parts if one of
    them draws nothing, as it hangs on another."""
    total, least = 0.0, 1e300
    for k in range(len(c.port)):
        amps = -w.rest[c.port[k]]
        shares[k] = amps
        total += amps
        least = min(least, amps)
    for k in range(len(c.port)):
        shares[k] = shares[k] / total if least > 1e-6 * total else 1.0 / len(c.port)


@merged
def one_offer(
    c: Any,
    n: Any,
    known: int,
    v: Any,
    w: Any,
    points: Any,
    shares: Any,
) -> float:
    """Fill one step's table and the ports' shares; returns the open-circuit voltage (0 when
    dark)."""
    fill(points, 0.0)
    fill(shares, 1.0 / len(c.port))
    top = open_near(c, n, known, v, w)
    if not top > 0.5:
        for k in range(OFFER_POINTS):
            points[k] = 0.5 * (k + 1.0) / OFFER_POINTS
        return 0.0
    peak = scanned(c, n, known, top, v, w)
    best = best_near(c, n, known, peak, top, v, w)
    if len(c.port) > 1:
        port_power(c, best, v, w)
        port_shares(c, w, shares)
    for k in range(OFFER_POINTS):
        points[k] = best + (top - best) * k / (OFFER_POINTS - 1.0)
    gap = (top - best) / (OFFER_POINTS - 1.0)
    sweep(c, n, 0, OFFER_POINTS - 1, 0, best, gap, known, CLOSE_V, v, w)
    for k in range(OFFER_POINTS - 1):
        points[OFFER_POINTS + k] = n.power[k]
    for k in range(OFFER_POINTS - 2, -1, -1):
        points[OFFER_POINTS + k] = max(points[OFFER_POINTS + k], points[OFFER_POINTS + k + 1])
    return float(top)


@dataclass(frozen=True, eq=False)
class Offering(Places):
    """What `make_offers` reads and writes: drives (time, all slots'), tables (time, 2 *
    OFFER_POINTS), open-circuit voltages (time,) [V] and the ports' shares (time, port)."""

    drives: Any = array(np.float64, 2)
    tables: Any = array(np.float64, 2)
    tops: Any = array(np.float64)
    shares: Any = array(np.float64, 2)


@part(CIRCUIT, NEAR, PlacesType(Offering), BUFFERS)
def make_offers(c: Any, n: Any, job: Any, w: Any) -> int:
    """Fill in the tables of every step."""
    v = w.spare
    known = 0
    for t in range(len(job.tops)):
        fill_in(w, c.drive, job.drives[t])
        top = one_offer(c, n, known, v, w, job.tables[t], job.shares[t])
        job.tops[t] = top
        known = 1 if top > 0.0 else 0
        if known == 0:
            n.best[3] = 0.0
    return 0
