"""The time loop, compiled: it steps a network and knows no model.

`law` sees states as they stand at the start of a step; a latch acts one step after its cause.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from copperpath.solver.cache import compiled
from copperpath.solver.constants import LONG_SEARCH
from copperpath.solver.newton import call_slot, copy, settle, solve

SOLVED, RESTARTED, NOT_SOLVED, SKIPPED = 0, 1, 2, 3


class Outputs(NamedTuple):
    """Filled by the loop: volts (time, column, node), states (time + 1, state), outcome and
    iterations (time, column)."""

    volts: Any
    states: Any
    outcome: Any
    iterations: Any


class Carried(NamedTuple):
    """What one piece of time hands to the next: volts (column, node) and how long each latch's
    signals have held (state, 2)."""

    volts: Any
    held: Any


@compiled
def load_short(c: Any, v: Any, d: Any) -> bool:
    """True if a load that is wanted stands below its lowest voltage."""
    for k in range(len(c.lowest)):
        load = c.lowest[k]
        if d[load.drive] > 0.0 and v[load.node] < load.volt:
            return True
    return False


@compiled
def solve_column(
    c: Any,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    points: Any,
    zone_size: int,
    flat_v: float,
    w: Any,
) -> tuple[int, int]:
    """Solve one column from where `v` stands; again by settling from a flat start if that fails,
    takes long or leaves a load short, for it may have been left collapsed by the step before.
    (outcome, iterations)"""
    taken = solve(c, v, x, d, p, points, zone_size, np.int64(0), w)
    if 0 < taken <= LONG_SEARCH and not load_short(c, v, d):
        return SOLVED, taken
    v[:] = flat_v
    spent = abs(taken) + settle(c, v, x, d, p, points, zone_size, w)
    last = solve(c, v, x, d, p, points, zone_size, np.int64(0), w)
    return (RESTARTED if last > 0 else NOT_SOLVED), spent + abs(last)


@compiled
def read_signals(
    c: Any,
    v: Any,
    x: Any,
    d: Any,
    p: Any,
    points: Any,
    zone_size: int,
    w: Any,
    signals: Any,
) -> None:
    """Signals of every device that remembers something, at one column's solution."""
    signals_at = signals.ctypes.data
    for k in range(len(c.slot)):
        watch = c.slot[k].watch
        if watch != 0:
            at = signals_at + 8 * c.slot[k].signal
            call_slot(c, k, watch, v, x, d, p, points, zone_size, w, at)


@compiled
def advance(
    s: Any, x: Any, signals: Any, weights: Any, mean: int, worst: int, dt: float, held: Any
) -> None:
    """States to the end of the step: weighted means of signals; latches on one column."""
    for k in range(len(s)):
        state = s[k]
        at = state.signal
        if state.kind == 1:
            column = worst if state.judged_worst == 1 else mean
            held[k, 0] = held[k, 0] + 1 if signals[column, at] > 0.5 else 0
            held[k, 1] = held[k, 1] + 1 if signals[column, at + 1] > 0.5 else 0
            if held[k, 0] >= state.set_steps:
                x[k] = 1.0
            elif held[k, 1] >= state.clear_steps:
                x[k] = 0.0
            continue
        total = 0.0
        for column in range(len(weights)):
            if weights[column] != 0.0:
                total += weights[column] * signals[column, at]
        if state.kind == 0:
            x[k] = min(max(x[k] + dt * total, state.low), state.high)
        else:
            x[k] = state.keep * x[k] + (1.0 - state.keep) * total


@compiled
def run_loop(
    c: Any,
    s: Any,
    signal_count: int,
    x: Any,
    drives: Any,
    p: Any,
    level_at: Any,
    levels: Any,
    weights: Any,
    mean: int,
    worst: int,
    points: Any,
    zone_size: int,
    dt: float,
    flat_v: float,
    carried: Any,
    w: Any,
    out: Any,
) -> None:
    """Step through time. `x` is advanced in place; everything else goes to `out`."""
    columns = weights.shape[1]
    signals = np.zeros((columns, max(signal_count, 1)))
    d = np.zeros(drives.shape[1])
    order = np.zeros(columns, dtype=np.int64)
    order[0] = mean
    place = 1
    for column in range(columns):
        if column != mean:
            order[place] = column
            place += 1
    for t in range(drives.shape[0]):
        copy(d, drives[t])
        copy(out.states[t], x)
        for k in range(columns):
            column = order[k]
            if weights[t, column] == 0.0 and column != mean and column != worst:
                copy(out.volts[t, column], out.volts[t, mean])
                out.outcome[t, column] = SKIPPED
                continue
            for radio in range(len(level_at)):
                d[level_at[radio]] = levels[t, column, radio]
            v = carried.volts[column]
            outcome, taken = solve_column(c, v, x, d, p, points[t], zone_size, flat_v, w)
            out.outcome[t, column] = outcome
            out.iterations[t, column] = taken
            read_signals(c, v, x, d, p, points[t], zone_size, w, signals[column])
            if outcome == NOT_SOLVED:
                out.volts[t, column] = np.nan
                v[:] = flat_v
                signals[column] = 0.0
            else:
                copy(out.volts[t, column], v)
        advance(s, x, signals, weights[t], mean, worst, dt, carried.held)
    copy(out.states[drives.shape[0]], x)
