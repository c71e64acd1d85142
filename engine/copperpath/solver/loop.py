"""The time loop, compiled: it steps a network and knows no model.

`law` sees states as they stand at the start of a step; a latch acts one step after its cause.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from copperpath.solver.assembly import any_open, copy, fill_in, read_volts
from copperpath.solver.cache import compiled, merged
from copperpath.solver.calls import call_kernel
from copperpath.solver.columns import NOT_SOLVED, SKIPPED, solve_column
from copperpath.solver.constants import DELAY_SLACK_S


class Outputs(NamedTuple):
    """Filled by the loop: volts (time, column, node), states (time + 1, state), outcome and
    iterations (time, column), and asked (time, column, load): the voltage at which a load was
    given up for that step, NaN for those that were not."""

    volts: Any
    states: Any
    outcome: Any
    iterations: Any
    asked: Any


class Carried(NamedTuple):
    """What one piece of time hands to the next: volts (column, node) and for how many seconds
    each latch's signals have held (state, 2)."""

    volts: Any
    held: Any


@merged
def read_signals(c: Any, v: Any, points: Any, zone_size: int, w: Any, signals: Any) -> None:
    """Signals of every device that remembers something, at one column's solution."""
    read_volts(c, v, w, any_open(w))
    cells_at, points_at = w.cells.ctypes.data, points.ctypes.data
    for k in range(len(c.bank)):
        bank = c.bank[k]
        if bank.watch != 0:
            table = points_at + 8 * zone_size * bank.zone
            call_kernel(bank.watch, cells_at + 8 * bank.first, table, bank.count, 0.0)
    for k in range(len(c.signal)):
        signals[k] = w.cells[c.signal[k]]


@merged
def lags(s: Any, dt: float, keep: Any) -> None:
    """What share of itself each lag keeps over `dt` seconds."""
    for k in range(len(s)):
        keep[k] = np.exp(-dt / s[k].tau_s) if s[k].tau_s > 0.0 else 0.0


@merged
def advance(
    s: Any,
    x: Any,
    signals: Any,
    weights: Any,
    mean: int,
    worst: int,
    dt: float,
    keep: Any,
    held: Any,
) -> None:
    """States to the end of the step: weighted means of signals; latches on one column. `keep` is
    the share of itself that a lag keeps over the step."""
    for k in range(len(s)):
        state = s[k]
        at = state.signal
        if state.kind == 1:
            column = worst if state.judged_worst == 1 else mean
            held[k, 0] = held[k, 0] + dt if signals[column, at] > 0.5 else 0.0
            held[k, 1] = held[k, 1] + dt if signals[column, at + 1] > 0.5 else 0.0
            if held[k, 0] > 0.0 and held[k, 0] >= state.set_s - DELAY_SLACK_S:
                x[k] = 1.0
            elif held[k, 1] > 0.0 and held[k, 1] >= state.clear_s - DELAY_SLACK_S:
                x[k] = 0.0
            continue
        total = 0.0
        for column in range(len(weights)):
            if weights[column] != 0.0:
                total += weights[column] * signals[column, at]
        if state.kind == 0:
            x[k] = min(max(x[k] + dt * total, state.low), state.high)
        else:
            x[k] = keep[k] * x[k] + (1.0 - keep[k]) * total


@compiled
def mean_first(mean: int, columns: int) -> Any:
    """The columns in the order in which they are solved: those of no weight take the mean's."""
    order = np.zeros(columns, dtype=np.int64)
    order[0] = mean
    place = 1
    for column in range(columns):
        if column != mean:
            order[place] = column
            place += 1
    return order


@compiled
def run_loop(
    c: Any,
    s: Any,
    signal_count: int,
    x: Any,
    drives: Any,
    level_at: Any,
    levels: Any,
    weights: Any,
    mean: int,
    worst: int,
    points: Any,
    zone_size: int,
    dt: Any,
    carried: Any,
    w: Any,
    out: Any,
) -> None:
    """Step through time. `x` is advanced in place; everything else goes to `out`. `level_at` are
    the cells of the radios' levels."""
    columns = weights.shape[1]
    signals = np.zeros((columns, max(signal_count, 1)))
    keep = np.zeros(len(s))
    kept_dt = -1.0
    spare = np.zeros(c.nodes)
    order = mean_first(mean, columns)
    for t in range(drives.shape[0]):
        copy(out.states[t], x)
        fill_in(w, c.state, x)
        fill_in(w, c.drive, drives[t])
        if dt[t] != kept_dt:
            kept_dt = dt[t]
            lags(s, kept_dt, keep)
        for k in range(columns):
            column = order[k]
            if weights[t, column] == 0.0 and column < mean:
                copy(out.volts[t, column], out.volts[t, mean])
                out.outcome[t, column] = SKIPPED
                continue
            for radio in range(len(level_at)):
                w.cells[level_at[radio]] = levels[t, column, radio]
            if columns > 1:
                w.quiet[0] = 0
            v = carried.volts[column]
            asked = out.asked[t, column]
            outcome, taken = solve_column(c, v, points[t], zone_size, w, asked, spare)
            out.outcome[t, column] = outcome
            out.iterations[t, column] = taken
            read_signals(c, v, points[t], zone_size, w, signals[column])
            if outcome == NOT_SOLVED:
                out.volts[t, column] = np.nan
                copy(v, c.start_v)
                signals[column] = 0.0
            else:
                copy(out.volts[t, column], v)
        advance(s, x, signals, weights[t], mean, worst, dt[t], keep, carried.held)
    copy(out.states[drives.shape[0]], x)
