"""The operating point by a damped Newton iteration, compiled.

Each line of the damping is there because networks failed without it; the docs page on method
says which.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import types

from copperpath.solver.assembly import any_open, assemble, balance, copy
from copperpath.solver.cache import inlined, inner, merged, part, reduced
from copperpath.solver.calls import call_part, floats_at
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT
from copperpath.solver.constants import (
    SETTLE_FROM_S,
    SETTLED_A,
    SLOPE_STEP,
)
from copperpath.solver.factors import eliminate, hold_port, substitute

TINY_V = 1e-5
"""A step that turns round is ignored below this: rounding."""

QUIET_TURNS = 6
QUIET_FIRST_V = 1e-2
QUIET_SHRINKS = 0.1
"""The most turns with slopes of an earlier step, the largest step of the first of them, and what
each further one may be of the one before."""

QUIET_ENOUGH = 3
"""If it takes more turns than this, the next step of time works its slopes out anew."""

TREND_V = 1e-3
"""A node that has moved by less than this over a step of time is taken to go on so."""


@reduced
def largest_step(w: Any) -> float:
    """The largest step of a node [V]; means nothing if one of them is not a number."""
    largest = 0.0
    for node in range(len(w.step)):
        largest = max(largest, abs(w.step[node]))
    return largest


@inlined
def all_finite(w: Any) -> bool:
    """True if every step is a number: a difference to itself is 0 of numbers alone."""
    odd = 0
    for node in range(len(w.step)):
        odd |= 0 if w.step[node] - w.step[node] == 0.0 else 1
    return odd == 0


@inlined
def any_turned(w: Any) -> bool:
    """True if a step that is not tiny goes against the one before."""
    turned = 0
    for node in range(len(w.step)):
        against = w.step[node] * w.last[node] < 0.0
        turned |= 1 if against and abs(w.step[node]) > TINY_V else 0
    return turned != 0


@inlined
def over(largest: float, before: float) -> bool:
    """True if a turn's largest step says that the point is found: rounding, or next to it."""
    return largest < 1e-11 or (largest < 1e-9 and largest > 0.5 * before)


@inlined
def move(v: Any, w: Any, share: float) -> None:
    """Take the step, by no more than a share of the most; remember it."""
    for node in range(len(v)):
        most = share * w.most[node]
        w.last[node] = w.step[node]
        v[node] -= min(max(w.step[node], -most), most)


@inner
def move_limited(v: Any, w: Any) -> None:
    """Take the step after the shrinking and growing limit of each node; remember what it did."""
    for node in range(len(v)):
        step, last, limit = w.step[node], w.last[node], w.limit[node]
        if step * last < 0.0 and abs(step) > TINY_V:
            limit = max(0.5 * min(limit, abs(last)), TINY_V)
            w.calm[node] = 0.0
        else:
            w.calm[node] += 1.0
            growth = 1.3 if w.calm[node] < 3.0 else 3.0
            limit = min(limit * growth, w.most[node])
        w.limit[node] = limit
        w.last[node] = step
        v[node] -= min(max(step, -limit), limit)


@inner
def forget(w: Any, calm: float) -> None:
    """Start the damping afresh; `calm` turns have been so, or -1 to leave that as it is."""
    for node in range(len(w.step)):
        w.limit[node] = w.most[node]
        w.last[node] = 0.0
        if calm >= 0.0:
            w.calm[node] = calm


@inner
def hold_back(c: Any, w: Any, siemens: float) -> None:
    """A capacitor at every node."""
    for node in range(c.nodes):
        w.matrix[node] += siemens


@part(CIRCUIT, types.int64, types.int64, types.int64, BUFFERS)
def solve_apart(c: Any, at: int, held: int, most: int, w: Any) -> int:
    """See `solve`; `at` is the address of the volts."""
    v = floats_at(at, c.nodes)
    taken: int = find(c, v, held, most, w)
    return taken


@part(CIRCUIT, types.int64, types.int64, BUFFERS)
def settle_apart(c: Any, at: int, most: int, w: Any) -> int:
    """See `settle`; `at` is the address of the volts."""
    v = floats_at(at, c.nodes)
    taken: int = fall(c, v, most, w)
    return taken


@inlined
def solve(c: Any, v: Any, held: int, most: int, w: Any) -> int:
    """Iterate `v` to the operating point; turns taken, or minus that if none was found in `most`.

    Done when no node moves by more than 1e-11 V, or by less than 1e-9 V and no longer halving
    (rounding). Never done while the capacitor holds the nodes back. Slopes look up and down in
    turn, for an operating point may sit closer to a corner of a law than a slope is wide. As long
    as no step has turned round every limit stands at its most and needs no bookkeeping.
    """
    taken: int = call_part(c.solve, (c, v.ctypes.data, np.int64(held), np.int64(most), w))
    return taken


@merged
def find(c: Any, v: Any, held: int, most: int, w: Any) -> int:
    """What `solve` does."""
    opened = any_open(w)
    w.quiet[0] = 0
    plain = True
    before = 1e300
    for turn in range(1, most + 1):
        assemble(c, v, SLOPE_STEP if turn % 2 == 1 else -SLOPE_STEP, w, opened)
        phase = turn % 36
        if phase == 0 or phase > 24:
            plain = False
            forget(w, 0.0 if phase == 0 else -1.0)
        if phase > 24:
            hold_back(c, w, 3.0 * 4.0 ** (turn // 36))
        if held == 1:
            hold_port(c, w)
        any_mended = eliminate(c, w)
        if not all_finite(w):
            return -turn
        largest = largest_step(w)
        if plain and turn > 1 and any_turned(w):
            plain = False
            copy(w.limit, w.most)
            for node in range(c.nodes):
                w.calm[node] = turn - 1.0
        if plain:
            move(v, w, 1.0)
        else:
            move_limited(v, w)
        if phase <= 24 and over(largest, before):
            w.quiet[0] = 0 if any_mended or opened or held == 1 else 1
            return turn
        before = largest
    return -most


@inlined
def go_on(v: Any, w: Any) -> None:
    """Remember in `w.before` where a step of time begins, and move `v` on as it has moved over the
    step before, where that was little."""
    for node in range(len(v)):
        start = v[node]
        moved = start - w.before[node]
        w.before[node] = start
        v[node] = start + (moved if abs(moved) < TREND_V else 0.0)


@part(CIRCUIT, types.int64, types.int64, BUFFERS)
def solve_quiet_apart(c: Any, at: int, most: int, w: Any) -> int:
    """See `solve_quiet`; `at` is the address of the volts."""
    v = floats_at(at, c.nodes)
    taken: int = find_quiet(c, v, most, w)
    return taken


@inlined
def solve_quiet(c: Any, v: Any, w: Any) -> int:
    """Iterate `v` with the slopes of an earlier step, which what is left of its elimination has;
    turns taken, or minus that if they do not lead there quickly. `v` is then of no use.

    Only while each turn's steps shrink tenfold: then these slopes are nearly those of the point
    that is found, and it is stable as the point was that they come from. Done if the next step,
    were it smaller by the same ratio again, is below 1e-14 V, for what is left is worth a current
    in stout branches; not from a step above 1e-10 V, for a part of it may shrink more slowly than
    the rest.
    """
    taken: int = call_part(c.solve_quiet, (c, v.ctypes.data, np.int64(QUIET_TURNS), w))
    return taken


@merged
def find_quiet(c: Any, v: Any, most: int, w: Any) -> int:
    """What `solve_quiet` does. `most` is told, or the compiler would write all turns out."""
    before = QUIET_FIRST_V / QUIET_SHRINKS
    for turn in range(1, most + 1):
        balance(c, v, 0.0, w, np.bool_(False))
        substitute(c, w)
        largest = largest_step(w)
        if not all_finite(w) or (largest > QUIET_SHRINKS * before and largest > 1e-11):
            return -turn
        for node in range(c.nodes):
            v[node] -= w.step[node]
        if largest < 1e-13 or (largest < 1e-10 and largest * largest < 1e-14 * before):
            if turn > QUIET_ENOUGH:
                w.quiet[0] = 0
            return turn
        before = largest
    return -most


@inlined
def settle(c: Any, v: Any, most: int, w: Any) -> int:
    """Let `v` fall towards an operating point as it would with a capacitor at every node.

    The capacitor shrinks while the voltages run one way and grows when one of them turns, so the
    path is nearly that of the real thing: it ends at a stable point, and where there are several,
    at one that rounding does not choose. `solve` does the rest. Returns the turns taken.
    """
    taken: int = call_part(c.settle, (c, v.ctypes.data, np.int64(most), w))
    return taken


@merged
def fall(c: Any, v: Any, most: int, w: Any) -> int:
    """What `settle` does."""
    capacitor = SETTLE_FROM_S
    opened = any_open(w)
    w.quiet[0] = 0
    forget(w, 0.0)
    for turn in range(1, most + 1):
        assemble(c, v, SLOPE_STEP if turn % 2 == 1 else -SLOPE_STEP, w, opened)
        left = 0.0
        for node in range(c.nodes):
            left = max(left, abs(w.rest[node]))
        if left < SETTLED_A:
            return turn
        hold_back(c, w, capacitor)
        eliminate(c, w)
        if not all_finite(w):
            return turn
        turned = any_turned(w)
        move(v, w, 0.5)
        capacitor = min(capacitor * 4.0, 1e4) if turned else capacitor * 0.3
    return most
