"""The time loop, compiled: it steps a network and knows no model.

`law` sees states as they stand at the start of a step; a latch acts one step after its cause.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.solver.assembly import any_open, copy, fill, fill_in, read_volts
from copperpath.solver.cache import inner, merged, part
from copperpath.solver.calls import call_kernel, call_part
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT, STATE, SUPPLY
from copperpath.solver.columns import NOT_SOLVED, SKIPPED, SOLVED, solve_column
from copperpath.solver.constants import DELAY_SLACK_S, OFFER_POINTS, TABLE_BYTES
from copperpath.solver.places import Places, PlacesType, array, whole


@dataclass(frozen=True, eq=False)
class Course(Places):
    """What the loop follows, and what it hands from one piece of time to the next.

    states: rows of STATE. x: what is remembered now. drives (time, all slots'). level_at: cells of
    the radios' levels. levels (time, column, radio), weights (time, column). mean, worst: those
    columns. order: the columns as they are solved. offers (time, seeker * 2 * OFFER_POINTS): the
    tables. full (time, seeker): 1 for those that need not be completed. supply: how they are, a
    row a seeker. dt (time,) [s]. volts (column, node). held (state, 2): for how many seconds a
    latch's signals have held. signals (column, signal), keep (state,): for the loop's own use.
    """

    states: Any = array(STATE)
    x: Any = array(np.float64)
    drives: Any = array(np.float64, 2)
    level_at: Any = array(np.int64)
    levels: Any = array(np.float64, 3)
    weights: Any = array(np.float64, 2)
    mean: int = whole()
    worst: int = whole()
    order: Any = array(np.int64)
    offers: Any = array(np.float64, 2)
    full: Any = array(np.int8, 2)
    supply: Any = array(SUPPLY)
    dt: Any = array(np.float64)
    volts: Any = array(np.float64, 2)
    held: Any = array(np.float64, 2)
    signals: Any = array(np.float64, 2)
    keep: Any = array(np.float64)


@dataclass(frozen=True, eq=False)
class Outputs(Places):
    """Filled by the loop: volts (time, column, node), states (time + 1, state), outcome and
    iterations (time, column), and asked (time, column, load): the voltage at which a load was
    given up for that step, NaN for those that were not."""

    volts: Any = array(np.float64, 3)
    states: Any = array(np.float64, 2)
    outcome: Any = array(np.int8, 2)
    iterations: Any = array(np.int32, 2)
    asked: Any = array(np.float64, 3)


@merged
def read_signals(c: Any, v: Any, w: Any, signals: Any) -> None:
    """Signals of every device that remembers something, at one column's solution."""
    read_volts(c, v, w, any_open(w))
    cells, offers = w.cells.ctypes.data, w.offers[0]
    for k in range(len(c.bank)):
        bank = c.bank[k]
        if bank.watch != 0:
            table = offers + TABLE_BYTES * bank.seeker
            call_kernel(bank.watch, cells + 8 * bank.first, table, bank.count, 0.0)
    for k in range(len(c.signal)):
        signals[k] = w.cells[c.signal[k]]


NEAR_BEST_V = 1e-6
"""A floor counts as above the best voltage from this much below it."""


@inner
def complete_tables(c: Any, course: Any, t: int, hard: bool, w: Any) -> bool:
    """Complete the tables that are looked at above the best voltage, as the floors stand from the
    last call of the laws, or all of them if `hard`; True if one was thin."""
    found = False
    for k in range(len(c.bank)):
        bank = c.bank[k]
        if bank.floor == 0 or course.full[t, bank.seeker] == 1:
            continue
        best = course.offers[t, 2 * OFFER_POINTS * bank.seeker]
        if hard or w.cells[bank.floor] > best - NEAR_BEST_V:
            supply = course.supply[bank.seeker]
            given = supply.circuit, supply.near, supply.job, supply.buffers, t
            call_part(supply.complete, given)
            found = True
    return found


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


def mean_first(mean: int, columns: int) -> np.ndarray:
    """The columns in the order in which they are solved: those of no weight take the mean's."""
    return np.array([mean, *(k for k in range(columns) if k != mean)], dtype=np.int64)


@part(CIRCUIT, PlacesType(Course), PlacesType(Outputs), BUFFERS)
def run_loop(c: Any, course: Any, out: Any, w: Any) -> int:
    """Step through time. What remembers is advanced in place; everything else goes to `out`."""
    s, x, weights, signals = course.states, course.x, course.weights, course.signals
    mean, worst = course.mean, course.worst
    columns, steps = weights.shape[1], len(course.dt)
    kept_dt = -1.0
    hard = False
    for t in range(steps):
        copy(out.states[t], x)
        fill_in(w, c.state, x)
        fill_in(w, c.drive, course.drives[t])
        w.offers[0] = course.offers[t].ctypes.data
        dt = course.dt[t]
        if dt != kept_dt:
            kept_dt = dt
            lags(s, dt, course.keep)
        # Most floors lie where they lay a step ago.
        complete_tables(c, course, t, hard, w)
        hard = False
        for k in range(columns):
            column = course.order[k]
            if weights[t, column] == 0.0 and column < mean:
                copy(out.volts[t, column], out.volts[t, mean])
                out.outcome[t, column] = SKIPPED
                continue
            for radio in range(len(course.level_at)):
                w.cells[course.level_at[radio]] = course.levels[t, column, radio]
            if columns > 1:
                w.quiet[0] = 0
            v = course.volts[column]
            outcome, taken = NOT_SOLVED, 0
            for _ in range(2):
                outcome, taken = solve_column(c, v, w, out.asked[t, column], w.spare)
                hard |= outcome != SOLVED
                if not complete_tables(c, course, t, outcome != SOLVED, w):
                    break
                # Once more from where the step began, with the full tables.
                copy(v, w.before)
                fill(out.asked[t, column], np.nan)
                w.quiet[0] = 0
            out.outcome[t, column] = outcome
            out.iterations[t, column] = taken
            read_signals(c, v, w, signals[column])
            if outcome == NOT_SOLVED:
                fill(out.volts[t, column], np.nan)
                copy(v, c.start_v)
                fill(signals[column], 0.0)
            else:
                copy(out.volts[t, column], v)
        advance(s, x, signals, weights[t], mean, worst, dt, course.keep, course.held)
    copy(out.states[steps], x)
    return 0
