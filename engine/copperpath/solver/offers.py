"""What a source-side zone can give, compiled: most power against lowest admissible voltage.

The port of the zone is held at chosen voltages and its current read. A scan finds the best
bracket (right for several humps), then the zero of the power's slope inside it is found. Made
before the time loop; it depends on drives only.

From one step to the next a zone's voltages hardly change, so each point is sought from where it
was a step ago, moved as its neighbour has just moved. One turn of Newton's method is then usually
enough, and what does not settle quickly is searched as thoroughly as the network itself.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from copperpath.solver.assembly import assemble, balance, copy, fill_in
from copperpath.solver.cache import compiled, inlined, merged
from copperpath.solver.constants import (
    ALL_OF_IT,
    LEAK_S,
    MOST_ITERATIONS,
    OFFER_POINTS,
    ROUNDS,
    SCAN,
    SCAN_FROM,
    SLOPE_SHARE,
    SLOPE_STEP,
)
from copperpath.solver.factors import eliminate, hold_port
from copperpath.solver.newton import solve

CLOSE_V = 1e-6
"""A search near a known point is over with a step below this: what is left is its square."""

ROUGH_V = 1e-4
"""The same for the scan, which only has to tell which of its points is the best."""

QUICK_TURNS = 8
"""Turns before a search near a known point is given up for a thorough one."""

TOP, ABOVE, BELOW, SCANNED = OFFER_POINTS, OFFER_POINTS + 1, OFFER_POINTS + 2, OFFER_POINTS + 3
"""Rows of `Near`: the table, open circuit, the two points of a slope, the scan."""
ROWS = SCANNED + SCAN


class Near(NamedTuple):
    """What a zone remembers from point to point and from step to step.

    sums: slope of the current that all nodes lose
    together, for each node [S]. offset (row, node): volts above the port's where a row was last
    solved. moved: by how much that was more than a step before. turned: by how much the move was
    more than a step before. power (row,) [W]. best: voltage of the most power as a share of open
    circuit, its change over the last step, the slope of the power's slope [W/V²], and how many
    steps in a row these have been good.
    """

    sums: Any
    offset: Any
    moved: Any
    turned: Any
    power: Any
    best: Any


@compiled
def near(c: Any) -> Any:
    """Nothing remembered yet."""
    rows = (ROWS, c.nodes)
    zeros = np.zeros(rows)
    return Near(np.zeros(c.nodes), zeros, zeros.copy(), zeros.copy(), np.zeros(ROWS), np.zeros(4))


@inlined
def assemble_near(c: Any, n: Any, side: float, v: Any, w: Any) -> float:
    """As `assemble`; returns the current that all nodes lose together [A]. The cables' currents
    cancel in it, and with them their rounding, which would blur where the hump is."""
    assemble(c, v, w.rest, np.int64(0), side, w, np.bool_(False))
    total = 0.0
    for node in range(c.nodes):
        total += LEAK_S * v[node]
        n.sums[node] = LEAK_S
    for k in range(len(c.joint)):
        total += w.cells[c.joint[k].amps]
    for k in range(len(c.slope)):
        n.sums[c.slope[k].node] += w.cells[c.slope[k].cell]
    return float(total)


@inlined
def seek_near(c: Any, n: Any, held: int, close: float, v: Any, w: Any) -> float:
    """Newton without damping from a `v` that is nearly right; the current that comes out of the
    port [A], or NaN if it does not settle quickly."""
    for turn in range(QUICK_TURNS):
        side = SLOPE_STEP if turn % 2 == 0 else -SLOPE_STEP
        total = assemble_near(c, n, side, v, w)
        if held == 1:
            hold_port(c, w)
        eliminate(c, w)
        largest = 0.0
        for node in range(c.nodes):
            step = w.step[node]
            if not abs(step) < 1.0:
                return np.nan
            total -= n.sums[node] * step
            largest = max(largest, abs(step))
            v[node] -= step
        if largest < close:
            return float(-total)
    return np.nan


@inlined
def hold(c: Any, v: Any, held_v: float) -> None:
    """Put every port at one voltage."""
    for port in c.port:
        v[port] = held_v


@compiled
def port_power(c: Any, held_v: float, v: Any, w: Any) -> float:
    """Power [W] out of the ports, all held at `held_v`; `v` is left at the zone's solution."""
    hold(c, v, held_v)
    taken = solve(c, v, w.rest, np.int64(0), np.int64(1), MOST_ITERATIONS, w)
    if taken <= 0:
        v[:] = held_v
        taken = solve(c, v, w.rest, np.int64(0), np.int64(1), MOST_ITERATIONS, w)
        if taken <= 0:
            return np.nan
    hold(c, v, held_v)
    balance(c, v, w.rest, np.int64(0), 0.0, w, np.bool_(False))
    # Summed over all nodes the cables' currents cancel, and with them their rounding, which
    # would blur where the hump is.
    total = 0.0
    for node in range(c.nodes):
        total += w.rest[node]
    return float(-held_v * total)


@inlined
def highest_port(c: Any, v: Any) -> float:
    """The highest voltage of a port."""
    top = 0.0
    for port in c.port:
        top = max(top, v[port])
    return float(top)


@compiled
def open_circuit(c: Any, v: Any, w: Any) -> float:
    """Highest voltage of a port with nothing taken from any."""
    taken = solve(c, v, w.rest, np.int64(0), np.int64(0), MOST_ITERATIONS, w)
    if taken <= 0:
        v[:] = 0.0
        taken = solve(c, v, w.rest, np.int64(0), np.int64(0), MOST_ITERATIONS, w)
    return highest_port(c, v) if taken > 0 else np.nan


@inlined
def remember(n: Any, row: int, known: bool, at: float, v: Any) -> None:
    """Keep where a row's nodes stand, and how they have moved."""
    for node in range(len(v)):
        offset = v[node] - at
        moved = offset - n.offset[row, node] if known else 0.0
        n.turned[row, node] = moved - n.moved[row, node] if known else 0.0
        n.moved[row, node] = moved
        n.offset[row, node] = offset


@inlined
def expect(n: Any, row: int, before: int, earlier: int, known: bool, at: float, v: Any) -> None:
    """A start for `row` in `v`: where it stood a step ago, moved as it moved then, and that moved
    on as the two rows solved just now say; if nothing is known from a step ago, on the straight
    line through those rows."""
    for node in range(len(v)):
        if known:
            move = n.moved[row, node] + 2.0 * n.turned[before, node] - n.turned[earlier, node]
            v[node] = at + n.offset[row, node] + move
        else:
            v[node] = at + 2.0 * n.offset[before, node] - n.offset[earlier, node]


@inlined
def follow(n: Any, row: int, leader: int, at: float, v: Any) -> None:
    """A start for `row` in `v`: where it was last solved, moved as another row has just moved."""
    for node in range(len(v)):
        v[node] = at + n.offset[row, node] + n.moved[leader, node]


@compiled
def sweep(
    c: Any,
    n: Any,
    first: int,
    count: int,
    base: int,
    at: float,
    gap: float,
    known: bool,
    close: float,
    v: Any,
    w: Any,
) -> None:
    """Power [W] out of the ports held at `at`, `at + gap` ... for rows from `first` on. The search
    for the first starts where `v` stands; rows from `base` to the first are solved already."""
    for place in range(count):
        row, held_v = first + place, at + place * gap
        if place > 0:
            expect(n, row, row - 1, max(row - 2, base), known, held_v, v)
        hold(c, v, held_v)
        power = held_v * seek_near(c, n, np.int64(1), close, v, w)
        if not np.isfinite(power):
            v[:] = held_v
            power = port_power(c, held_v, v, w)
        remember(n, row, known, held_v, v)
        n.power[row] = power


@merged
def open_near(c: Any, n: Any, known: bool, v: Any, w: Any) -> float:
    """Voltage of the port with nothing taken from it, from where it was a step ago."""
    for node in range(c.nodes):
        v[node] = n.offset[TOP, node]
        if known:
            v[node] += n.moved[TOP, node]
    amps = seek_near(c, n, np.int64(0), CLOSE_V, v, w)
    top = highest_port(c, v)
    if not np.isfinite(amps):
        for node in range(c.nodes):
            v[node] = n.offset[TOP, node]
        top = open_circuit(c, v, w)
    remember(n, TOP, known, 0.0, v)
    return float(top)


@compiled
def power_slope(c: Any, n: Any, at: float, width: float, v: Any, w: Any) -> float:
    """Slope of power against voltage [W/V] by a central difference; starts where `v` stands."""
    known = n.best[2] < 0.0
    sweep(c, n, ABOVE, 2, ABOVE, at + width, -2.0 * width, known, CLOSE_V, v, w)
    return float((n.power[ABOVE] - n.power[BELOW]) / (2.0 * width))


@inlined
def lean(n: Any, by: float, width: float, at: float, v: Any) -> None:
    """A start in `v` for a port at `at`, which lies `by` above the higher point of the last
    slope, on the straight line through its two points."""
    for node in range(len(v)):
        tilt = (n.offset[ABOVE, node] - n.offset[BELOW, node]) / (2.0 * width)
        v[node] = at + n.offset[ABOVE, node] + tilt * by


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
def scanned(c: Any, n: Any, known: bool, top: float, v: Any, w: Any) -> float:
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
def best_near(c: Any, n: Any, known: bool, peak: float, top: float, v: Any, w: Any) -> float:
    """The voltage of most power around the scan's best point, from where it was a step ago."""
    gap = (1.0 - SCAN_FROM) * top / (SCAN - 1)
    low, high = max(peak - gap, 0.05 * top), min(peak + gap, top)
    width = SLOPE_SHARE * top
    best = np.nan
    guess = (n.best[0] + (n.best[1] if n.best[3] > 1.0 else 0.0)) * top
    if known and n.best[3] > 0.0 and low + width < guess < high - width:
        row = SCANNED + SCAN - 1 - round((peak - SCAN_FROM * top) / gap)
        follow(n, ABOVE, row, guess + width, v)
        best = quick_best(c, n, low, high, width, guess, v, w)
    if not np.isfinite(best):
        best = best_voltage(c, n, low, peak, high, width, v, w)
    n.best[1] = best / top - n.best[0]
    n.best[0] = best / top
    n.best[3] = n.best[3] + 1.0 if low < best < high else 0.0
    return float(best)


@compiled
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
    known: bool,
    v: Any,
    w: Any,
    points: Any,
    shares: Any,
) -> float:
    """Fill one step's table and the ports' shares; returns the open-circuit voltage (0 when
    dark)."""
    points[:] = 0.0
    shares[:] = 1.0 / len(c.port)
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


@compiled
def make_offers(c: Any, drives: Any, w: Any, points: Any, tops: Any, shares: Any) -> None:
    """Tables for every step: points (time, 2 * OFFER_POINTS), tops (time,) open circuit [V],
    shares (time, port)."""
    v = np.zeros(c.nodes)
    n = near(c)
    known = False
    for t in range(drives.shape[0]):
        fill_in(w, c.drive, drives[t])
        tops[t] = one_offer(c, n, known, v, w, points[t], shares[t])
        known = tops[t] > 0.0
        if not known:
            n.best[3] = 0.0


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
                open_circuit(c, v, w)
                copy(volts[t, column], v)
                continue
            at = voltage_for(c, want, points[t, 0], points[t, OFFER_POINTS], tops[t], v, w)
            port_power(c, at, v, w)
            copy(volts[t, column], v)
