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
    ONE_VOLT_STEPS_TO_V,
    SETTLE_FROM_S,
    SETTLED_A,
    SLOPE_STEP,
)


class CircuitArrays(NamedTuple):
    """A circuit and its devices as tables of named columns; see `flatten.py` for what each holds.

    Few and wide on purpose: every array is handed on at each call as seven numbers, and the
    compiler pays for them.
    """

    nodes: int
    port: Any
    port_row: Any
    start_v: Any
    branch: Any
    pivot: Any
    around: Any
    fill: Any
    slot: Any
    slot_node: Any
    slot_position: Any
    lowest: Any


NODE = np.dtype([(name, np.float64) for name in ("rest", "step", "limit", "last", "calm", "most")])
"""What the iteration keeps for each node: current left over [A], step, limit and last step [V], for
how many turns the step has not turned round, and the most a step may be [V]."""


class Workspace(NamedTuple):
    """Buffers of one circuit's iteration: matrix entries, a row of NODE for each node, volts at
    one device's terminals, what its kernel returns, and which devices stand open (1)."""

    matrix: Any
    node: Any
    volts: Any
    out: Any
    open: Any


def workspace(entries: int, start_v: FloatArray, largest_slot: int, slots: int) -> Workspace:
    """Fresh buffers. A node that stands at 230 V may move further in a step than one at 13 V."""
    node = np.zeros(len(start_v), dtype=NODE)
    node["most"] = np.maximum(1.0, start_v / ONE_VOLT_STEPS_TO_V)
    return Workspace(
        np.zeros(entries),
        node,
        np.zeros(largest_slot),
        np.zeros(largest_slot * largest_slot + largest_slot + 2),
        np.zeros(slots + 1, dtype=np.int8),
    )


@compiled
def copy(target: Any, source: Any) -> None:
    """Element by element; a slice assignment would compile a page of shape checks."""
    for k in range(len(target)):
        target[k] = source[k]


@compiled
def call_slot(
    c: Any,
    k: int,
    address: int,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    points: Any,
    zone_size: int,
    w: Any,
    out_at: int,
) -> None:
    """Call one of a slot's kernels at the voltages `v`, or at none if the device stands open; it
    writes to the address `out_at`."""
    slot = c.slot[k]
    for place in range(slot.size):
        w.volts[place] = 0.0 if w.open[k] == 1 else v[c.slot_node[slot.first + place]]
    call_kernel(
        address,
        w.volts.ctypes.data,
        x.ctypes.data + 8 * slot.state,
        d.ctypes.data + 8 * slot.drive,
        p.ctypes.data + 8 * slot.parameter,
        points.ctypes.data + 8 * zone_size * max(slot.zone, 0),
        out_at,
    )


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
) -> None:
    """Currents leaving each node in `w.node.rest`, their slopes in `w.matrix`."""
    for entry in range(len(w.matrix)):
        w.matrix[entry] = 0.0
    for node in range(c.nodes):
        w.node[node].rest = LEAK_S * v[node]
        w.matrix[node] = LEAK_S
    for k in range(len(c.branch)):
        branch = c.branch[k]
        a, b, g = branch.start, branch.end, branch.siemens
        amps = g * (v[a] - v[b])
        w.node[a].rest += amps
        w.node[b].rest -= amps
        w.matrix[a] += g
        w.matrix[b] += g
        w.matrix[branch.across] -= g
        w.matrix[branch.back] -= g
    for k in range(len(c.slot)):
        if w.open[k] == 1:
            continue
        slot = c.slot[k]
        size, first, base = slot.size, slot.first, slot.position
        w.out[0] = slope_step
        call_slot(c, k, slot.law, v, x, d, p, points, zone_size, w, w.out.ctypes.data)
        for row in range(size):
            w.node[c.slot_node[first + row]].rest += w.out[row]
            for column in range(size):
                entry = row * size + column
                w.matrix[c.slot_position[base + entry]] += w.out[size + 1 + entry]


@compiled
def eliminate(c: Any, w: Any) -> None:
    """Solve `w.matrix` · `w.step` = `w.rest` along the planned order; the right side is used up.

    A pivot below half the leak has turned (a bus of negative slope): it is mended to a positive
    one, which also steers away from unstable points.
    """
    a = w.matrix
    for turn in range(c.nodes):
        pivot = c.pivot[turn]
        k, begin, fill = pivot.node, pivot.first, pivot.fill
        size = c.pivot[turn + 1].first - begin
        if a[k] < 0.5 * LEAK_S:
            a[k] = max(abs(a[k]), 1e-3)
        for i in range(size):
            beside = c.around[begin + i]
            factor = a[beside.lower] / a[k]
            a[beside.lower] = factor
            for j in range(size):
                a[c.fill[fill + i * size + j]] -= factor * a[c.around[begin + j].upper]
            w.node[beside.node].rest -= factor * w.node[k].rest
    for turn in range(c.nodes - 1, -1, -1):
        k = c.pivot[turn].node
        total = w.node[k].rest
        for entry in range(c.pivot[turn].first, c.pivot[turn + 1].first):
            total -= a[c.around[entry].upper] * w.node[c.around[entry].node].step
        w.node[k].step = total / a[k]


@compiled
def hold_port(c: Any, w: Any) -> None:
    """Replace the ports' equations by "no change", so that their voltages stay as set."""
    for k in range(len(c.port_row)):
        w.matrix[c.port_row[k].position] = c.port_row[k].value
    for port in c.port:
        w.node[port].rest = 0.0


@compiled
def limited_step(w: Any, node: int) -> float:
    """One node's step after the shrinking and growing limit; remembers what it did."""
    n = w.node[node]
    d, last = n.step, n.last
    if d * last < 0.0 and abs(d) > 1e-5:
        n.limit = max(0.5 * min(n.limit, abs(last)), 1e-5)
        n.calm = 0.0
    else:
        n.calm += 1.0
        growth = 1.3 if n.calm < 3.0 else 3.0
        n.limit = min(n.limit * growth, n.most)
    n.last = d
    return float(min(max(d, -n.limit), n.limit))


@compiled
def forget(w: Any, calm_too: bool) -> None:
    """Start the damping afresh."""
    for node in range(len(w.node)):
        w.node[node].limit = w.node[node].most
        w.node[node].last = 0.0
        if calm_too:
            w.node[node].calm = 0.0


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
) -> int:
    """Iterate `v` to the operating point; iterations taken, or minus that if none was found.

    Done when no node moves by more than 1e-11 V, or by less than 1e-9 V and no longer halving
    (rounding). Never done while the capacitor holds the nodes back. Slopes look up and down in
    turn, for an operating point may sit closer to a corner of a law than a slope is wide.
    """
    forget(w, np.bool_(True))
    before = 1e300
    for turn in range(1, MOST_ITERATIONS + 1):
        side = SLOPE_STEP if turn % 2 == 1 else -SLOPE_STEP
        assemble(c, v, x, d, p, points, zone_size, side, w)
        phase = turn % 36
        if phase == 0 or phase > 24:
            forget(w, phase == 0)
        if phase > 24:
            capacitor = 3.0 * 4.0 ** (turn // 36)
            for node in range(c.nodes):
                w.matrix[node] += capacitor
        if held == 1:
            hold_port(c, w)
        eliminate(c, w)
        largest = 0.0
        for node in range(c.nodes):
            if not np.isfinite(w.node[node].step):
                return -turn
            largest = max(largest, abs(w.node[node].step))
            v[node] -= limited_step(w, node)
        if phase <= 24 and (largest < 1e-11 or (largest < 1e-9 and largest > 0.5 * before)):
            return turn
        before = largest
    return -MOST_ITERATIONS


@compiled
def settle(c: Any, v: Any, x: Any, d: Any, p: Any, points: Any, zone_size: int, w: Any) -> int:
    """Let `v` fall towards an operating point as it would with a capacitor at every node.

    The capacitor shrinks while the voltages run one way and grows when one of them turns, so the
    path is nearly that of the real thing: it ends at a stable point, and where there are several,
    at one that rounding does not choose. `solve` does the rest. Returns the turns taken.
    """
    capacitor = SETTLE_FROM_S
    forget(w, np.bool_(True))
    for turn in range(1, MOST_SETTLING + 1):
        side = SLOPE_STEP if turn % 2 == 1 else -SLOPE_STEP
        assemble(c, v, x, d, p, points, zone_size, side, w)
        left = 0.0
        for node in range(c.nodes):
            left = max(left, abs(w.node[node].rest))
            w.matrix[node] += capacitor
        if left < SETTLED_A:
            return turn
        eliminate(c, w)
        turned = False
        for node in range(c.nodes):
            step = w.node[node].step
            if not np.isfinite(step):
                return turn
            if step * w.node[node].last < 0.0 and abs(step) > 1e-5:
                turned = True
            w.node[node].last = step
            most = 0.5 * w.node[node].most
            v[node] -= min(max(step, -most), most)
        capacitor = min(capacitor * 4.0, 1e4) if turned else capacitor * 0.3
    return MOST_SETTLING


def circuit_float(values: list[float]) -> FloatArray:
    """A float array that is never empty, so that its address is valid."""
    return np.array(values or [0.0], dtype=np.float64)
