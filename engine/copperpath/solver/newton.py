"""Kirchhoff's current law at every node by a damped Newton iteration, compiled.

Each line of the damping is there because networks failed without it; the docs page on method
says which. This file knows kernels by address only.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.cache import compiled
from copperpath.solver.calls import call_kernel
from copperpath.solver.constants import (
    LEAK_S,
    MOST_ITERATIONS,
    MOST_SETTLING,
    SETTLE_FROM_S,
    SETTLED_A,
    SLOPE_STEP,
)


class CircuitArrays(NamedTuple):
    """A circuit and its devices as flat arrays; see `flatten.py` for what each holds."""

    nodes: int
    port: int
    port_row: Any
    branch_start: Any
    branch_end: Any
    branch_siemens: Any
    branch_position: Any
    order: Any
    first: Any
    neighbour: Any
    lower: Any
    upper: Any
    fill_first: Any
    fill: Any
    slot_size: Any
    slot_first: Any
    slot_node: Any
    slot_position_first: Any
    slot_position: Any
    slot_state: Any
    slot_drive: Any
    slot_parameter: Any
    slot_zone: Any
    law: Any
    watch: Any
    lowest_slot: Any
    lowest_place: Any
    lowest_volt: Any
    lowest_drive: Any


class Workspace(NamedTuple):
    """Buffers of one circuit's iteration."""

    matrix: Any
    rest: Any
    step: Any
    limit: Any
    last: Any
    calm: Any
    volts: Any
    out: Any


def workspace(entries: int, nodes: int, largest_slot: int) -> Workspace:
    """Fresh buffers."""
    return Workspace(
        np.zeros(entries),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(largest_slot),
        np.zeros(largest_slot * largest_slot + largest_slot + 2),
    )


@compiled
def copy(target: Any, source: Any) -> None:
    """Element by element; a slice assignment would compile a page of shape checks."""
    for k in range(len(target)):
        target[k] = source[k]


@compiled
def assemble(
    c: Any,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    points: Any,
    zone_size: int,
    slope_step: float,
    w: Any,
    watts: Any,
) -> None:
    """Currents leaving each node in `w.rest`, their slopes in `w.matrix`, watts by slot."""
    w.matrix[:] = 0.0
    for node in range(c.nodes):
        w.rest[node] = LEAK_S * v[node]
        w.matrix[node] = LEAK_S
    for branch in range(len(c.branch_start)):
        a, b, g = c.branch_start[branch], c.branch_end[branch], c.branch_siemens[branch]
        amps = g * (v[a] - v[b])
        w.rest[a] += amps
        w.rest[b] -= amps
        w.matrix[a] += g
        w.matrix[b] += g
        w.matrix[c.branch_position[2 * branch]] -= g
        w.matrix[c.branch_position[2 * branch + 1]] -= g
    volts_at, out_at = w.volts.ctypes.data, w.out.ctypes.data
    x_at, d_at, p_at = x.ctypes.data, d.ctypes.data, p.ctypes.data
    points_at = points.ctypes.data
    for slot in range(len(c.slot_size)):
        size, first = c.slot_size[slot], c.slot_first[slot]
        for place in range(size):
            w.volts[place] = v[c.slot_node[first + place]]
        zone = max(c.slot_zone[slot], 0)
        w.out[0] = slope_step
        call_kernel(
            c.law[slot],
            volts_at,
            x_at + 8 * c.slot_state[slot],
            d_at + 8 * c.slot_drive[slot],
            p_at + 8 * c.slot_parameter[slot],
            points_at + 8 * zone_size * zone,
            out_at,
        )
        watts[slot] = w.out[size]
        base = c.slot_position_first[slot]
        for row in range(size):
            w.rest[c.slot_node[first + row]] += w.out[row]
            for column in range(size):
                entry = row * size + column
                w.matrix[c.slot_position[base + entry]] += w.out[size + 1 + entry]


@compiled
def eliminate(c: Any, w: Any) -> None:
    """Solve `w.matrix` · `w.step` = `w.rest` along the planned order; the right side is used up.

    A pivot below half the leak has turned (a bus of negative slope): it is mended to a positive
    one, which also steers away from unstable points.
    """
    a, f = w.matrix, w.rest
    for turn in range(c.nodes):
        k = c.order[turn]
        if a[k] < 0.5 * LEAK_S:
            a[k] = max(abs(a[k]), 1e-3)
        begin, end = c.first[turn], c.first[turn + 1]
        size = end - begin
        fill = c.fill_first[turn]
        for i in range(size):
            factor = a[c.lower[begin + i]] / a[k]
            a[c.lower[begin + i]] = factor
            for j in range(size):
                a[c.fill[fill + i * size + j]] -= factor * a[c.upper[begin + j]]
            f[c.neighbour[begin + i]] -= factor * f[k]
    for turn in range(c.nodes - 1, -1, -1):
        k = c.order[turn]
        total = f[k]
        for entry in range(c.first[turn], c.first[turn + 1]):
            total -= a[c.upper[entry]] * w.step[c.neighbour[entry]]
        w.step[k] = total / a[k]


@compiled
def hold_port(c: Any, w: Any) -> None:
    """Replace the port's equation by "no change", so that its voltage stays as set."""
    for position in c.port_row:
        w.matrix[position] = 0.0
    w.matrix[c.port] = 1.0
    w.rest[c.port] = 0.0


@compiled
def limited_step(w: Any, node: int) -> float:
    """One node's step after the shrinking and growing limit; remembers what it did."""
    d, last = w.step[node], w.last[node]
    if d * last < 0.0 and abs(d) > 1e-5:
        w.limit[node] = max(0.5 * min(w.limit[node], abs(last)), 1e-5)
        w.calm[node] = 0.0
    else:
        w.calm[node] += 1.0
        growth = 1.3 if w.calm[node] < 3.0 else 3.0
        w.limit[node] = min(w.limit[node] * growth, 1.0)
    w.last[node] = d
    return float(min(max(d, -w.limit[node]), w.limit[node]))


@compiled
def solve(
    c: Any,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    points: Any,
    zone_size: int,
    held: int,
    w: Any,
    watts: Any,
) -> int:
    """Iterate `v` to the operating point; iterations taken, or minus that if none was found.

    Done when no node moves by more than 1e-11 V, or by less than 1e-9 V and no longer halving
    (rounding). Never done while the capacitor holds the nodes back. Slopes look up and down in
    turn, for an operating point may sit closer to a corner of a law than a slope is wide.
    """
    w.limit[:] = 1.0
    w.last[:] = 0.0
    w.calm[:] = 0.0
    before = 1e300
    for turn in range(1, MOST_ITERATIONS + 1):
        side = SLOPE_STEP if turn % 2 == 1 else -SLOPE_STEP
        assemble(c, v, x, d, p, points, zone_size, side, w, watts)
        phase = turn % 36
        if phase == 0 or phase > 24:
            w.limit[:] = 1.0
            w.last[:] = 0.0
            if phase == 0:
                w.calm[:] = 0.0
        if phase > 24:
            capacitor = 3.0 * 4.0 ** (turn // 36)
            for node in range(c.nodes):
                w.matrix[node] += capacitor
        if held == 1:
            hold_port(c, w)
        eliminate(c, w)
        largest = 0.0
        for node in range(c.nodes):
            if not np.isfinite(w.step[node]):
                return -turn
            largest = max(largest, abs(w.step[node]))
            v[node] -= limited_step(w, node)
        if phase <= 24 and (largest < 1e-11 or (largest < 1e-9 and largest > 0.5 * before)):
            return turn
        before = largest
    return -MOST_ITERATIONS


@compiled
def settle(
    c: Any, v: Any, x: Any, d: Any, p: Any, points: Any, zone_size: int, w: Any, watts: Any
) -> int:
    """Let `v` fall towards an operating point as it would with a capacitor at every node.

    The capacitor shrinks while the voltages run one way and grows when one of them turns, so the
    path is nearly that of the real thing: it ends at a stable point, and where there are several,
    at one that rounding does not choose. `solve` does the rest. Returns the turns taken.
    """
    capacitor = SETTLE_FROM_S
    w.last[:] = 0.0
    for turn in range(1, MOST_SETTLING + 1):
        side = SLOPE_STEP if turn % 2 == 1 else -SLOPE_STEP
        assemble(c, v, x, d, p, points, zone_size, side, w, watts)
        left = 0.0
        for node in range(c.nodes):
            left = max(left, abs(w.rest[node]))
            w.matrix[node] += capacitor
        if left < SETTLED_A:
            return turn
        eliminate(c, w)
        turned = False
        for node in range(c.nodes):
            step = w.step[node]
            if not np.isfinite(step):
                return turn
            if step * w.last[node] < 0.0 and abs(step) > 1e-5:
                turned = True
            w.last[node] = step
            v[node] -= min(max(step, -0.5), 0.5)
        capacitor = min(capacitor * 4.0, 1e4) if turned else capacitor * 0.3
    return MOST_SETTLING


def circuit_float(values: list[float]) -> FloatArray:
    """A float array that is never empty, so that its address is valid."""
    return np.array(values or [0.0], dtype=np.float64)
