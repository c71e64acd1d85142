"""One column of one step, compiled: solve, settle if need be, and give up loads that cannot be.

A load that stands below its least voltage has no operating point of its own kind. If a fresh start
does not lift it, it is given up for that step, the one of least priority first and one at a time;
then each is tried again, the most important first, for the one that was to blame may have been
among the last. The rest of the station is solved without it.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.solver.assembly import copy
from copperpath.solver.cache import inner, merged
from copperpath.solver.constants import (
    DEAD_SHARE,
    LONG_SEARCH,
    MOST_ITERATIONS,
    MOST_SETTLING,
    PATIENT_SETTLING,
)
from copperpath.solver.newton import go_on, settle, solve, solve_quiet

SOLVED, RESTARTED, NOT_SOLVED, SKIPPED, GAVE_UP = 0, 1, 2, 3, 4


@inner
def load_short(c: Any, v: Any, w: Any) -> bool:
    """True if a load that is wanted and not given up stands below its least voltage."""
    for k in range(len(c.lowest)):
        load = c.lowest[k]
        if v[load.node] < load.volt and w.cells[load.wanted] > 0.0 and w.open[load.slot] == 0:
            return True
    return False


@merged
def next_to_go(c: Any, v: Any, w: Any, anyone: bool) -> int:
    """The load to give up next, -1 if none: among those that are short (or `anyone` wanted) the one
    of highest rank, then the one furthest below its least voltage."""
    best, best_rank, best_share = -1, np.int64(-1), 0.0
    for k in range(len(c.lowest)):
        load = c.lowest[k]
        if w.cells[load.wanted] <= 0.0 or w.open[load.slot] == 1:
            continue
        share = v[load.node] / load.volt if load.volt > 0.0 else 1.0
        if not anyone and not DEAD_SHARE < share < 1.0:
            continue
        if load.rank > best_rank or (load.rank == best_rank and share < best_share):
            best, best_rank, best_share = k, load.rank, share
    return best


@merged
def next_to_return(c: Any, w: Any, asked: Any, tried: Any) -> int:
    """The load of lowest rank that was given up and has not been tried again, -1 if none."""
    best, best_rank = -1, np.int64(0)
    for k in range(len(c.lowest)):
        load = c.lowest[k]
        if w.open[load.slot] == 1 and tried[k] == 0 and (best < 0 or load.rank < best_rank):
            best, best_rank = k, load.rank
    return best


@inner
def fresh(c: Any, v: Any, w: Any) -> Any:
    """Settle from the start and solve, once more with patience if that fails: two supplies that
    hold one voltage and have next to nothing to do come to rest slowly. Turns taken, or minus that
    if no point was found."""
    spent, most = 0, MOST_SETTLING
    for _ in range(2):
        copy(v, c.start_v)
        spent += settle(c, v, most, w)
        last = solve(c, v, np.int64(0), MOST_ITERATIONS, w)
        if last > 0:
            return spent + last
        spent, most = spent - last, PATIENT_SETTLING
    return -spent


@inner
def near(c: Any, v: Any, w: Any) -> Any:
    """Solve from where `v` stands, afresh if that fails."""
    taken = solve(c, v, np.int64(0), MOST_ITERATIONS, w)
    if taken > 0:
        return taken
    again = fresh(c, v, w)
    return again - taken if again > 0 else again + taken


@merged
def give_up(
    c: Any,
    v: Any,
    w: Any,
    asked: Any,
    spare: Any,
    found: bool,
) -> tuple[bool, int]:
    """Open loads until nobody is short, then close again those that can be served.
    (whether a point was found, turns taken)"""
    spent = 0
    while True:
        k = next_to_go(c, v, w, not found)
        if k < 0:
            break
        asked[k] = v[c.lowest[k].node] if found else 0.0
        w.open[c.lowest[k].slot] = 1
        taken = near(c, v, w)
        found = taken > 0
        spent += abs(taken)
    tried = np.zeros(len(c.lowest), dtype=np.int8)
    while found:
        k = next_to_return(c, w, asked, tried)
        if k < 0:
            break
        tried[k] = 1
        copy(spare, v)
        w.open[c.lowest[k].slot] = 0
        taken = near(c, v, w)
        spent += abs(taken)
        if taken > 0 and not load_short(c, v, w):
            asked[k] = np.nan
        else:
            w.open[c.lowest[k].slot] = 1
            copy(v, spare)
    return found, spent


@merged
def solve_column(
    c: Any,
    v: Any,
    w: Any,
    asked: Any,
    spare: Any,
) -> tuple[int, int]:
    """Solve one column from where `v` stands; afresh if that fails, takes long or leaves a load
    short, for it may have been left collapsed by the step before. (outcome, iterations)"""
    for k in range(len(w.open)):
        w.open[k] = 0
    quiet = 0
    if w.quiet[0] == 1:
        go_on(v, w)
        quiet = solve_quiet(c, v, w)
        if quiet > 0 and not load_short(c, v, w):
            return SOLVED, quiet
        copy(v, w.before)
    else:
        copy(w.before, v)
    taken = solve(c, v, np.int64(0), LONG_SEARCH, w)
    if taken > 0 and not load_short(c, v, w):
        return SOLVED, abs(quiet) + taken
    w.quiet[0] = 0
    again = fresh(c, v, w)
    spent = abs(quiet) + abs(taken) + abs(again)
    found = again > 0
    if found and not load_short(c, v, w):
        return RESTARTED, spent
    found, more = give_up(c, v, w, asked, spare, found)
    opened = False
    for k in range(len(w.open)):
        opened |= w.open[k] == 1
    if not found:
        return NOT_SOLVED, spent + more
    return (GAVE_UP if opened else RESTARTED), spent + more
