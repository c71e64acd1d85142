"""Points of a source-side zone's curve, compiled: its ports held at a voltage, what comes out.

From one step to the next a zone's voltages hardly change, so each point is sought from where it
was a step ago, moved as its neighbour has just moved. One turn of Newton's method is then usually
enough, and what does not settle quickly is searched as thoroughly as the network itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numba import types

from copperpath.solver.assembly import assemble, balance, fill
from copperpath.solver.cache import inlined, inner, merged, part
from copperpath.solver.calls import call_part, floats_at
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT
from copperpath.solver.constants import (
    LEAK_S,
    MOST_ITERATIONS,
    OFFER_POINTS,
    SCAN,
    SLOPE_STEP,
)
from copperpath.solver.factors import eliminate, hold_port
from copperpath.solver.newton import solve
from copperpath.solver.places import Places, PlacesType, array

CLOSE_V = 1e-6
"""A search near a known point is over with a step below this: what is left is its square."""

ROUGH_V = 1e-4
"""The same for the scan, which only has to tell which of its points is the best."""

QUICK_TURNS = 8
"""Turns before a search near a known point is given up for a thorough one."""

TOP, ABOVE, BELOW, SCANNED = OFFER_POINTS, OFFER_POINTS + 1, OFFER_POINTS + 2, OFFER_POINTS + 3
"""Rows of `Near`: the table, open circuit, the two points of a slope, the scan."""
ROWS = SCANNED + SCAN


@dataclass(frozen=True, eq=False)
class Near(Places):
    """What a zone remembers from point to point and from step to step.

    sums: slope of the current that all nodes lose
    together, for each node [S]. offset (row, node): volts above the port's where a row was last
    solved. moved: by how much that was more than a step before. turned: by how much the move was
    more than a step before. power (row,) [W]. best: voltage of the most power as a share of open
    circuit, its change over the last step, the slope of the power's slope [W/V²], and how many
    steps in a row these have been good. amps: out of the ports, as `seek_near` found it last [A].
    """

    sums: Any = array(np.float64)
    offset: Any = array(np.float64, 2)
    moved: Any = array(np.float64, 2)
    turned: Any = array(np.float64, 2)
    power: Any = array(np.float64)
    best: Any = array(np.float64)
    amps: Any = array(np.float64)


NEAR = PlacesType(Near)
"""What it is to numba."""


def near(nodes: int) -> Near:
    """Nothing remembered yet."""
    rows = (ROWS, nodes)
    return Near(
        sums=np.zeros(nodes),
        offset=np.zeros(rows),
        moved=np.zeros(rows),
        turned=np.zeros(rows),
        power=np.zeros(ROWS),
        best=np.zeros(4),
        amps=np.zeros(1),
    )


@inlined
def assemble_near(c: Any, n: Any, side: float, v: Any, w: Any) -> float:
    """As `assemble`; returns the current that all nodes lose together [A]. The cables' currents
    cancel in it, and with them their rounding, which would blur where the hump is."""
    assemble(c, v, side, w, np.bool_(False))
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
    most = np.int64(QUICK_TURNS)
    if call_part(c.seek, (c, n, np.int64(held), close, v.ctypes.data, most, w)) == 0:
        return np.nan
    return float(n.amps[0])


@part(CIRCUIT, NEAR, types.int64, types.float64, types.int64, types.int64, BUFFERS)
def seek_apart(c: Any, n: Any, held: int, close: float, at: int, most: int, w: Any) -> int:
    """What `seek_near` does; `at` is the address of the volts, `most` how many turns it may
    take (told, or the compiler would write them all out). The current goes to `n.amps`; 0 if it
    does not settle."""
    v = floats_at(at, c.nodes)
    w.held[0] = held
    for turn in range(most):
        side = SLOPE_STEP if turn % 2 == 0 else -SLOPE_STEP
        total = assemble_near(c, n, side, v, w)
        if w.held[0] == 1:
            hold_port(c, w)
        eliminate(c, w)
        largest = 0.0
        for node in range(c.nodes):
            step = w.step[node]
            if not abs(step) < 1.0:
                return 0
            total -= n.sums[node] * step
            largest = max(largest, abs(step))
            v[node] -= step
        if largest < close:
            n.amps[0] = -total
            return 1
    return 0


@inlined
def hold(c: Any, v: Any, held_v: float) -> None:
    """Put every port at one voltage."""
    for port in c.port:
        v[port] = held_v


@inlined
def port_power(c: Any, held_v: float, v: Any, w: Any) -> float:
    """Power [W] out of the ports, all held at `held_v`; `v` is left at the zone's solution."""
    if call_part(c.port_power, (c, held_v, v.ctypes.data, w)) == 0:
        return np.nan
    return float(w.power[0])


@part(CIRCUIT, types.float64, types.int64, BUFFERS)
def port_power_apart(c: Any, held_v: float, at: int, w: Any) -> int:
    """What `port_power` does; `at` is the address of the volts. The power goes to `w.power`; 0 if
    there is no solution."""
    v = floats_at(at, c.nodes)
    hold(c, v, held_v)
    taken = solve(c, v, np.int64(1), MOST_ITERATIONS, w)
    if taken <= 0:
        fill(v, held_v)
        taken = solve(c, v, np.int64(1), MOST_ITERATIONS, w)
        if taken <= 0:
            return 0
    hold(c, v, held_v)
    balance(c, v, 0.0, w, np.bool_(False))
    # Summed over all nodes the cables' currents cancel, and with them their rounding, which
    # would blur where the hump is.
    total = 0.0
    for node in range(c.nodes):
        total += w.rest[node]
    w.power[0] = -held_v * total
    return 1


@inlined
def highest_port(c: Any, v: Any) -> float:
    """The highest voltage of a port."""
    top = 0.0
    for port in c.port:
        top = max(top, v[port])
    return float(top)


@inner
def open_circuit(c: Any, v: Any, w: Any) -> float:
    """Highest voltage of a port with nothing taken from any."""
    taken = solve(c, v, np.int64(0), MOST_ITERATIONS, w)
    if taken <= 0:
        fill(v, 0.0)
        taken = solve(c, v, np.int64(0), MOST_ITERATIONS, w)
    return highest_port(c, v) if taken > 0 else np.nan


@inlined
def remember(n: Any, row: int, known: int, at: float, v: Any) -> None:
    """Keep where a row's nodes stand, and how they have moved."""
    for node in range(len(v)):
        offset = v[node] - at
        moved = offset - n.offset[row, node] if known == 1 else 0.0
        n.turned[row, node] = moved - n.moved[row, node] if known == 1 else 0.0
        n.moved[row, node] = moved
        n.offset[row, node] = offset


@inlined
def expect(n: Any, row: int, before: int, earlier: int, known: int, at: float, v: Any) -> None:
    """A start for `row` in `v`: where it stood a step ago, moved as it moved then, and that moved
    on as the two rows solved just now say; if nothing is known from a step ago, on the straight
    line through those rows."""
    for node in range(len(v)):
        if known == 1:
            move = n.moved[row, node] + 2.0 * n.turned[before, node] - n.turned[earlier, node]
            v[node] = at + n.offset[row, node] + move
        else:
            v[node] = at + 2.0 * n.offset[before, node] - n.offset[earlier, node]


@inlined
def follow(n: Any, row: int, leader: int, at: float, v: Any) -> None:
    """A start for `row` in `v`: where it was last solved, moved as another row has just moved."""
    for node in range(len(v)):
        v[node] = at + n.offset[row, node] + n.moved[leader, node]


@inlined
def sweep(
    c: Any,
    n: Any,
    first: int,
    count: int,
    base: int,
    at: float,
    gap: float,
    known: int,
    close: float,
    v: Any,
    w: Any,
) -> None:
    """Power [W] out of the ports held at `at`, `at + gap` ... for rows from `first` on. The search
    for the first starts where `v` stands; rows from `base` to the first are solved already."""
    places = np.int64(first), np.int64(count), np.int64(base), at, gap, np.int64(known), close
    call_part(c.sweep, (c, n, *places, v.ctypes.data, w))


@part(
    CIRCUIT,
    NEAR,
    *[types.int64] * 3,
    *[types.float64] * 2,
    types.int64,
    types.float64,
    types.int64,
    BUFFERS,
)
def sweep_apart(
    c: Any,
    n: Any,
    first: int,
    count: int,
    base: int,
    at: float,
    gap: float,
    known: int,
    close: float,
    volts: int,
    w: Any,
) -> int:
    """What `sweep` does; `volts` is the address of `v`."""
    v = floats_at(volts, c.nodes)
    for place in range(count):
        row, held_v = first + place, at + place * gap
        if place > 0:
            expect(n, row, row - 1, max(row - 2, base), known, held_v, v)
        hold(c, v, held_v)
        power = held_v * seek_near(c, n, np.int64(1), close, v, w)
        if not np.isfinite(power):
            fill(v, held_v)
            power = port_power(c, held_v, v, w)
        remember(n, row, known, held_v, v)
        n.power[row] = power
    return 0


@merged
def open_near(c: Any, n: Any, known: int, v: Any, w: Any) -> float:
    """Voltage of the port with nothing taken from it, from where it was a step ago."""
    for node in range(c.nodes):
        v[node] = n.offset[TOP, node]
        if known == 1:
            v[node] += n.moved[TOP, node]
    amps = seek_near(c, n, np.int64(0), CLOSE_V, v, w)
    top = highest_port(c, v)
    if not np.isfinite(amps):
        for node in range(c.nodes):
            v[node] = n.offset[TOP, node]
        top = open_circuit(c, v, w)
    remember(n, TOP, known, 0.0, v)
    return float(top)


@inlined
def power_slope(c: Any, n: Any, at: float, width: float, v: Any, w: Any) -> float:
    """Slope of power against voltage [W/V] by a central difference; starts where `v` stands."""
    known = 1 if n.best[2] < 0.0 else 0
    sweep(c, n, ABOVE, 2, ABOVE, at + width, -2.0 * width, known, CLOSE_V, v, w)
    return float((n.power[ABOVE] - n.power[BELOW]) / (2.0 * width))


@inlined
def lean(n: Any, by: float, width: float, at: float, v: Any) -> None:
    """A start in `v` for a port at `at`, which lies `by` above the higher point of the last
    slope, on the straight line through its two points."""
    for node in range(len(v)):
        tilt = (n.offset[ABOVE, node] - n.offset[BELOW, node]) / (2.0 * width)
        v[node] = at + n.offset[ABOVE, node] + tilt * by
