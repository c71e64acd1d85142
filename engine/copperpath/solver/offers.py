"""What a source-side zone can give, compiled: most power against lowest admissible voltage.

The port of the zone is held at chosen voltages and its current read. A scan finds the best
bracket (right for several humps), then the zero of the power's slope inside it is found by
regula falsi. Made before the time loop; it depends on drives only.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.solver.cache import compiled
from copperpath.solver.constants import (
    ALL_OF_IT,
    OFFER_POINTS,
    ROUNDS,
    SCAN,
    SCAN_FROM,
    SLOPE_SHARE,
    SLOPE_STEP,
)
from copperpath.solver.newton import assemble, copy, solve


@compiled
def hold(c: Any, v: Any, held_v: float) -> None:
    """Put every port at one voltage."""
    for port in c.port:
        v[port] = held_v


@compiled
def port_power(c: Any, held_v: float, v: Any, x: Any, d: Any, p: Any, w: Any) -> float:
    """Power [W] out of the ports, all held at `held_v`; `v` is left at the zone's solution."""
    hold(c, v, held_v)
    taken = solve(c, v, x, d, p, w.out, np.int64(0), np.int64(1), w)
    if taken <= 0:
        v[:] = held_v
        taken = solve(c, v, x, d, p, w.out, np.int64(0), np.int64(1), w)
        if taken <= 0:
            return np.nan
    hold(c, v, held_v)
    assemble(c, v, x, d, p, w.out, np.int64(0), SLOPE_STEP, w)
    # Summed over all nodes the cables' currents cancel, and with them their rounding, which
    # would blur where the hump is.
    total = 0.0
    for node in range(c.nodes):
        total += w.node[node].rest
    return float(-held_v * total)


@compiled
def open_circuit(c: Any, v: Any, x: Any, d: Any, p: Any, w: Any) -> float:
    """Highest voltage of a port with nothing taken from any."""
    taken = solve(c, v, x, d, p, w.out, np.int64(0), np.int64(0), w)
    if taken <= 0:
        v[:] = 0.0
        taken = solve(c, v, x, d, p, w.out, np.int64(0), np.int64(0), w)
    if taken <= 0:
        return np.nan
    top = 0.0
    for port in c.port:
        top = max(top, v[port])
    return float(top)


@compiled
def power_slope(c: Any, at: float, width: float, v: Any, x: Any, d: Any, p: Any, w: Any) -> float:
    """Slope of power against voltage [W/V] by a central difference."""
    above = port_power(c, at + width, v, x, d, p, w)
    below = port_power(c, at - width, v, x, d, p, w)
    return float((above - below) / (2.0 * width))


@compiled
def best_voltage(
    c: Any,
    low: float,
    high: float,
    width: float,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    w: Any,
) -> float:
    """Where the slope of power crosses zero from above between low and high (Illinois)."""
    slope_low = power_slope(c, low, width, v, x, d, p, w)
    slope_high = power_slope(c, high, width, v, x, d, p, w)
    if not slope_low > 0.0:
        return low
    if not slope_high < 0.0:
        return high
    most = port_power(c, 0.5 * (low + high), v, x, d, p, w)
    side = 0
    for _ in range(ROUNDS):
        at = (low * slope_high - high * slope_low) / (slope_high - slope_low)
        if not (low < at < high):
            at = 0.5 * (low + high)
        slope = power_slope(c, at, width, v, x, d, p, w)
        if slope > 0.0:
            low, slope_low = at, slope
            if side == 1:
                slope_high *= 0.5
            side = 1
        else:
            high, slope_high = at, slope
            if side == -1:
                slope_low *= 0.5
            side = -1
        if high - low < 1e-12 * high or abs(slope) * high < 1e-12 * most:
            return float(at)
    return 0.5 * (low + high)


@compiled
def port_shares(c: Any, w: Any, shares: Any) -> None:
    """What part of the power each port draws, right after `port_power`; equal parts if one of
    them draws nothing, as it hangs on another."""
    total, least = 0.0, 1e300
    for k in range(len(c.port)):
        amps = -w.node[c.port[k]].rest
        shares[k] = amps
        total += amps
        least = min(least, amps)
    for k in range(len(c.port)):
        shares[k] = shares[k] / total if least > 1e-6 * total else 1.0 / len(c.port)


@compiled
def one_offer(c: Any, v: Any, x: Any, d: Any, p: Any, w: Any, points: Any, shares: Any) -> float:
    """Fill one step's table and the ports' shares; returns the open-circuit voltage (0 when
    dark)."""
    points[:] = 0.0
    shares[:] = 1.0 / len(c.port)
    top = open_circuit(c, v, x, d, p, w)
    if not top > 0.5:
        for k in range(OFFER_POINTS):
            points[k] = 0.5 * (k + 1.0) / OFFER_POINTS
        return 0.0
    best, best_power = top, 0.0
    scan_step = (1.0 - SCAN_FROM) * top / (SCAN - 1)
    for k in range(SCAN - 1, -1, -1):
        at = SCAN_FROM * top + k * scan_step
        power = port_power(c, at, v, x, d, p, w)
        if power > best_power:
            best, best_power = at, power
    low, high = max(best - scan_step, 0.05 * top), min(best + scan_step, top)
    width = SLOPE_SHARE * top
    best = best_voltage(c, low, high, width, v, x, d, p, w)
    if len(c.port) > 1:
        port_power(c, best, v, x, d, p, w)
        port_shares(c, w, shares)
    for k in range(OFFER_POINTS):
        points[k] = best + (top - best) * k / (OFFER_POINTS - 1.0)
        points[OFFER_POINTS + k] = port_power(c, points[k], v, x, d, p, w)
    points[2 * OFFER_POINTS - 1] = 0.0
    for k in range(OFFER_POINTS - 2, -1, -1):
        points[OFFER_POINTS + k] = max(points[OFFER_POINTS + k], points[OFFER_POINTS + k + 1])
    return float(top)


@compiled
def make_offers(c: Any, drives: Any, p: Any, w: Any, points: Any, tops: Any, shares: Any) -> None:
    """Tables for every step: points (time, 2 * OFFER_POINTS), tops (time,) open circuit [V],
    shares (time, port)."""
    x = np.zeros(1)
    v = np.zeros(c.nodes)
    for t in range(drives.shape[0]):
        tops[t] = one_offer(c, v, x, drives[t], p, w, points[t], shares[t])


@compiled
def voltage_for(
    c: Any,
    wanted: float,
    best: float,
    most: float,
    top: float,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    w: Any,
) -> float:
    """The port voltage on the high side of the hump at which the zone gives `wanted` [W]."""
    if wanted >= ALL_OF_IT * most:
        return best
    if wanted <= 0.0:
        return top
    low, high = best, top
    over = most - wanted
    under = port_power(c, top, v, x, d, p, w) - wanted
    side = 0
    goal = 1e-12 * most
    at = low
    for _ in range(ROUNDS):
        at = (low * under - high * over) / (under - over)
        if not (low < at < high):
            at = 0.5 * (low + high)
        miss = port_power(c, at, v, x, d, p, w) - wanted
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
def throttle(
    c: Any, drives: Any, p: Any, w: Any, points: Any, tops: Any, wanted: Any, volts: Any
) -> None:
    """Zone voltages (time, column, node) at which the zone gives `wanted` (time, column) [W]."""
    x = np.zeros(1)
    v = np.zeros(c.nodes)
    for t in range(wanted.shape[0]):
        d = drives[t]
        for column in range(wanted.shape[1]):
            want = wanted[t, column]
            if column > 0 and want == wanted[t, column - 1]:
                copy(volts[t, column], volts[t, column - 1])
                continue
            if tops[t] == 0.0:
                open_circuit(c, v, x, d, p, w)
                copy(volts[t, column], v)
                continue
            v[:] = tops[t]
            at = voltage_for(c, want, points[t, 0], points[t, OFFER_POINTS], tops[t], v, x, d, p, w)
            port_power(c, at, v, x, d, p, w)
            copy(volts[t, column], v)
