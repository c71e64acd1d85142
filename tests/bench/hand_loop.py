"""The time loop of `ridge_post.station`, and of nothing else, compiled by hand.

It is the limit against which the engine's general loop is measured: same laws, same damped Newton
to the same tolerance, same advance of the states, so that volts and states agree to 1e-9. What a
general loop cannot do is done here: slopes are written out, what only a step decides is worked out
once a step, the tree is eliminated in an order written down, the damping is bookkept only once a
step has turned round, and all 36 loads go through one loop without branches that the compiler
turns into vector instructions. Used by the bench and its test only, never by the package.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from bench.hand_laws import (
    ABOVE,
    ACCEPTS,
    AVAILABLE,
    AWAKE,
    CALM,
    CELL,
    CHARGE,
    COLD,
    CONTROL,
    DIAGONAL,
    EMPTY,
    FAR,
    FLOW,
    FORK,
    G_CONTROL,
    G_FORK,
    G_IN,
    G_LINE,
    G_LOAD,
    G_PACK,
    GIVES,
    HUB,
    IN,
    LAST,
    LEAK,
    LIMIT,
    LINE,
    LOAD,
    LOADS,
    LOCKED,
    LOWEST,
    NODES,
    NOW,
    OHM_FACTORS,
    OHM_WARMTHS_K,
    OPEN,
    OPEN_KEYED,
    OUT,
    OWN,
    P_CONTROL,
    P_GUARD,
    P_PACK,
    PACK,
    PER_CONTACT,
    PER_LOWEST,
    PER_OHM,
    REST,
    REST_CHARGES,
    REST_V,
    REST_VOLTS,
    SHARE,
    SIEMENS,
    SIZE,
    SQUARE,
    STATES,
    STEP,
    STILL,
    SUN,
    TAKES,
    WANTED,
    WARMTHS_K,
    V,
    battery,
    controller,
    fast,
    held_current,
    line_through,
    loads,
    offer,
    step_down,
)

LONG_SEARCH, MOST_ITERATIONS = 24, 250
SETTLE_FROM_S, MOST_SETTLING, SETTLED_A = 10.0, 250, 1e-6
COLD_BAND_K, WAKE_SHARE = 2.0, 0.02
DEAD_SHARE, DELAY_SLACK_S = 0.05, 1e-6
SOLVED, RESTARTED, NOT_SOLVED, BEYOND = 0, 1, 2, 3
"""Beyond what is written here: a load would have to be given up."""


@fast
def spread(w: Any, first: int, end: int, node: int) -> None:
    """The volts of a node for the loads that hang on it."""
    above = w[V + node]
    for k in range(first, end):
        w[ABOVE + k] = above


@fast
def total(w: Any, row: int, first: int, end: int) -> float:
    """Sum over some loads."""
    found = 0.0
    for k in range(row + first, row + end):
        found += w[k]
    return found


@fast
def carry_back(w: Any, first: int, end: int, step: float) -> None:
    """Steps of the loads that hang on a node which makes this step."""
    for k in range(first, end):
        w[STEP + k] += w[SHARE + k] * step


@fast
def assemble(w: Any, q: Any, now: Any, cross: Any, tables: Any) -> None:
    """REST and DIAGONAL of every node at `V`; `cross` has the slopes between a step-down's input
    and output, (input by output, output by input) for each."""
    spread(w, 0, 4, HUB)
    spread(w, 4, 16, FAR)
    spread(w, 16, 18, FORK)
    spread(w, 18, 23, OUT)
    spread(w, 23, 28, OUT + 1)
    spread(w, 28, 32, OUT + 2)
    spread(w, 32, 36, OUT + 3)
    loads(w)
    for node in range(LOADS, NODES):
        w[REST + node] = LEAK * w[V + node]
        w[DIAGONAL + node] = w[STILL + node]
    w[REST + OUT] -= total(w, FLOW, 18, 23)
    w[REST + OUT + 1] -= total(w, FLOW, 23, 28)
    w[REST + OUT + 2] -= total(w, FLOW, 28, 32)
    w[REST + OUT + 3] -= total(w, FLOW, 32, 36)
    hub_v, far_v = w[V + HUB], w[V + FAR]
    hub = far = 0.0
    for k in range(4):
        taken, given, aa, ab, ba, bb = step_down(q, k, w[V + IN + k], w[V + OUT + k])
        flow = q[G_IN + k] * (w[V + IN + k] - (hub_v if k < 2 else far_v))
        w[REST + IN + k] += taken + flow
        w[DIAGONAL + IN + k] += aa
        w[REST + OUT + k] += given
        w[DIAGONAL + OUT + k] += bb
        cross[2 * k], cross[2 * k + 1] = ab, ba
        if k < 2:
            hub -= flow
        else:
            far -= flow
    for k in range(2):
        amps, slope = controller(q, now, k, w[V + CONTROL + k], tables[k])
        flow = q[G_CONTROL + k] * (w[V + CONTROL + k] - hub_v)
        w[REST + CONTROL + k] += amps + flow
        w[DIAGONAL + CONTROL + k] += slope
        hub -= flow
    amps, slope = battery(now, w[V + PACK])
    pack_flow = q[G_PACK] * (w[V + PACK] - hub_v)
    w[REST + PACK] += amps + pack_flow
    w[DIAGONAL + PACK] += slope
    fork_flow = q[G_FORK] * (w[V + FORK] - far_v)
    w[REST + FORK] += fork_flow - total(w, FLOW, 16, 18)
    through = now[PER_CONTACT] * (w[V + LINE] - w[V + LOAD])
    own, slope = held_current(w[V + LINE], now[OWN], q[P_GUARD + 4])
    line_flow = q[G_LINE] * (w[V + LINE] - hub_v)
    w[REST + LINE] += through + own + line_flow
    w[DIAGONAL + LINE] += now[PER_CONTACT] + slope
    load_flow = q[G_LOAD] * (w[V + LOAD] - far_v)
    w[REST + LOAD] += load_flow - through
    w[DIAGONAL + LOAD] += now[PER_CONTACT]
    w[REST + HUB] += hub - pack_flow - line_flow - total(w, FLOW, 0, 4)
    w[REST + FAR] += far - fork_flow - load_flow - total(w, FLOW, 4, 16)


@fast
def mended(pivot: float) -> float:
    """The pivot, or a positive one in place of one that has turned."""
    return pivot if pivot >= 0.5 * LEAK else max(abs(pivot), 1e-3)


@fast
def hang(w: Any, node: int, siemens: float) -> tuple[float, float]:
    """Eliminate a node that hangs on one branch; its DIAGONAL becomes one over the pivot.
    What the pivot of the node before it loses, and what its rest gains."""
    per_pivot = 1.0 / mended(w[DIAGONAL + node])
    w[DIAGONAL + node] = per_pivot
    share = siemens * per_pivot
    return siemens * share, share * w[REST + node]


@fast
def hang_down(
    w: Any, cross: Any, k: int, first: int, end: int, siemens: float
) -> tuple[float, float]:
    """Eliminate a step-down: its loads, its output, its input."""
    pivot = w[DIAGONAL + OUT + k] - total(w, SQUARE, first, end)
    rest = w[REST + OUT + k] + total(w, FLOW, first, end)
    per_pivot = 1.0 / mended(pivot)
    w[DIAGONAL + OUT + k], w[REST + OUT + k] = per_pivot, rest
    factor = cross[2 * k] * per_pivot
    w[DIAGONAL + IN + k] -= factor * cross[2 * k + 1]
    w[REST + IN + k] -= factor * rest
    return hang(w, IN + k, siemens)


@fast
def eliminate(w: Any, q: Any, now: Any, cross: Any) -> None:
    """STEP of every node, from the leaves to the hub and back."""
    for k in range(LOADS):
        per_pivot = 1.0 / w[DIAGONAL + k]
        share = w[SIEMENS + k] * per_pivot
        w[SHARE + k] = share
        w[SQUARE + k] = w[SIEMENS + k] * share
        w[FLOW + k] = share * w[REST + k]
        w[STEP + k] = w[REST + k] * per_pivot
    w[DIAGONAL + FORK] -= total(w, SQUARE, 16, 18)
    w[REST + FORK] += total(w, FLOW, 16, 18)
    fork, fork_rest = hang(w, FORK, q[G_FORK])
    third, third_rest = hang_down(w, cross, 2, 28, 32, q[G_IN + 2])
    fourth, fourth_rest = hang_down(w, cross, 3, 32, 36, q[G_IN + 3])
    w[DIAGONAL + FAR] -= total(w, SQUARE, 4, 16) + fork + third + fourth
    w[REST + FAR] += total(w, FLOW, 4, 16) + fork_rest + third_rest + fourth_rest
    less, more = hang(w, FAR, q[G_LOAD])
    w[DIAGONAL + LOAD] -= less
    w[REST + LOAD] += more
    less, more = hang(w, LOAD, now[PER_CONTACT])
    w[DIAGONAL + LINE] -= less
    w[REST + LINE] += more
    line, line_rest = hang(w, LINE, q[G_LINE])
    first, first_rest = hang_down(w, cross, 0, 18, 23, q[G_IN])
    second, second_rest = hang_down(w, cross, 1, 23, 28, q[G_IN + 1])
    one, one_rest = hang(w, CONTROL, q[G_CONTROL])
    other, other_rest = hang(w, CONTROL + 1, q[G_CONTROL + 1])
    pack, pack_rest = hang(w, PACK, q[G_PACK])
    less = total(w, SQUARE, 0, 4) + first + second + one + other + pack + line
    more = total(w, FLOW, 0, 4) + first_rest + second_rest + one_rest + other_rest + pack_rest
    hub = (w[REST + HUB] + more + line_rest) / mended(w[DIAGONAL + HUB] - less)
    back(w, q, now, cross, hub)


@fast
def back(w: Any, q: Any, now: Any, cross: Any, hub: float) -> None:
    """STEP of every node from that of the hub."""
    w[STEP + HUB] = hub
    w[STEP + PACK] = (w[REST + PACK] + q[G_PACK] * hub) * w[DIAGONAL + PACK]
    for k in range(2):
        rest = w[REST + CONTROL + k] + q[G_CONTROL + k] * hub
        w[STEP + CONTROL + k] = rest * w[DIAGONAL + CONTROL + k]
    line = (w[REST + LINE] + q[G_LINE] * hub) * w[DIAGONAL + LINE]
    load = (w[REST + LOAD] + now[PER_CONTACT] * line) * w[DIAGONAL + LOAD]
    far = (w[REST + FAR] + q[G_LOAD] * load) * w[DIAGONAL + FAR]
    fork = (w[REST + FORK] + q[G_FORK] * far) * w[DIAGONAL + FORK]
    w[STEP + LINE], w[STEP + LOAD], w[STEP + FAR], w[STEP + FORK] = line, load, far, fork
    for k in range(4):
        above = hub if k < 2 else far
        step = (w[REST + IN + k] + q[G_IN + k] * above) * w[DIAGONAL + IN + k]
        w[STEP + IN + k] = step
        w[STEP + OUT + k] = (w[REST + OUT + k] - cross[2 * k + 1] * step) * w[DIAGONAL + OUT + k]
    carry_back(w, 0, 4, hub)
    carry_back(w, 4, 16, far)
    carry_back(w, 16, 18, fork)
    carry_back(w, 18, 23, w[STEP + OUT])
    carry_back(w, 23, 28, w[STEP + OUT + 1])
    carry_back(w, 28, 32, w[STEP + OUT + 2])
    carry_back(w, 32, 36, w[STEP + OUT + 3])


@fast
def hold_back(w: Any, siemens: float) -> None:
    """A capacitor at every node."""
    for node in range(NODES):
        w[DIAGONAL + node] += siemens


@fast
def forget(w: Any, calm_too: bool) -> None:
    """Start the damping afresh."""
    for node in range(NODES):
        w[LIMIT + node] = 1.0
        w[LAST + node] = 0.0
        if calm_too:
            w[CALM + node] = 0.0


@fast
def damped(w: Any) -> None:
    """Take the step with the shrinking and growing limit."""
    for node in range(NODES):
        step, last = w[STEP + node], w[LAST + node]
        limit, calm = w[LIMIT + node], w[CALM + node]
        turned = step * last < 0.0 and abs(step) > 1e-5
        smaller = max(0.5 * min(limit, abs(last)), 1e-5)
        calm = 0.0 if turned else calm + 1.0
        larger = min(limit * (1.3 if calm < 3.0 else 3.0), 1.0)
        limit = smaller if turned else larger
        w[LIMIT + node], w[CALM + node], w[LAST + node] = limit, calm, step
        w[V + node] -= min(max(step, -limit), limit)


@fast
def largest_step(w: Any) -> tuple[float, float]:
    """The largest step, and a sum that is not finite if one of them is not."""
    largest = every = 0.0
    for node in range(NODES):
        largest = max(largest, abs(w[STEP + node]))
        every += w[STEP + node]
    return largest, every


@fast
def any_turned(w: Any) -> bool:
    """True if a step that is not tiny goes against the one before."""
    turned = 0
    for node in range(NODES):
        against = w[STEP + node] * w[LAST + node] < 0.0
        turned |= 1 if against and abs(w[STEP + node]) > 1e-5 else 0
    return turned != 0


@fast
def solve(w: Any, q: Any, now: Any, cross: Any, tables: Any, most: int) -> int:
    """Iterate `V` to the operating point; turns taken, or minus that if none was found. As long
    as nothing has turned round, every limit stands at one volt and needs no bookkeeping."""
    plain = True
    before = 1e300
    for turn in range(1, most + 1):
        assemble(w, q, now, cross, tables)
        phase = turn % 36
        if phase == 0 or phase > 24:
            plain = False
            forget(w, phase == 0)
        if phase > 24:
            hold_back(w, 3.0 * 4.0 ** (turn // 36))
        eliminate(w, q, now, cross)
        largest, every = largest_step(w)
        if not np.isfinite(every):
            return -turn
        if plain and turn > 1 and any_turned(w):
            plain = False
            for node in range(NODES):
                w[LIMIT + node] = 1.0
                w[CALM + node] = turn - 1.0
        if plain:
            for node in range(NODES):
                w[LAST + node] = w[STEP + node]
                w[V + node] -= min(max(w[STEP + node], -1.0), 1.0)
        else:
            damped(w)
        if phase <= 24 and (largest < 1e-11 or (largest < 1e-9 and largest > 0.5 * before)):
            return turn
        before = largest
    return -most


@fast
def settle(w: Any, q: Any, now: Any, cross: Any, tables: Any) -> int:
    """Let `V` fall towards an operating point as it would with a capacitor at every node."""
    capacitor = SETTLE_FROM_S
    forget(w, True)
    for turn in range(1, MOST_SETTLING + 1):
        assemble(w, q, now, cross, tables)
        left = 0.0
        for node in range(NODES):
            left = max(left, abs(w[REST + node]))
        if left < SETTLED_A:
            return turn
        hold_back(w, capacitor)
        eliminate(w, q, now, cross)
        turned = any_turned(w)
        every = 0.0
        for node in range(NODES):
            every += w[STEP + node]
            w[LAST + node] = w[STEP + node]
        if not np.isfinite(every):
            return turn
        for node in range(NODES):
            w[V + node] -= min(max(w[STEP + node], -0.5), 0.5)
        capacitor = min(capacitor * 4.0, 1e4) if turned else capacitor * 0.3
    return MOST_SETTLING


@fast
def load_short(w: Any) -> bool:
    """True if a load that is wanted stands below its lowest voltage."""
    short = 0
    for k in range(LOADS):
        short |= 1 if w[WANTED + k] > 0.0 and w[V + k] < w[LOWEST + k] else 0
    return short != 0


@fast
def load_sags(w: Any) -> bool:
    """True if a load that is wanted stands below its lowest voltage but is not dead."""
    sags = 0
    for k in range(LOADS):
        share = w[V + k] * w[PER_LOWEST + k]
        sags |= 1 if w[WANTED + k] > 0.0 and share > DEAD_SHARE and share < 1.0 else 0
    return sags != 0


@fast
def solve_step(w: Any, q: Any, now: Any, cross: Any, tables: Any, start_v: Any) -> tuple[int, int]:
    """How it ended, and turns."""
    taken = solve(w, q, now, cross, tables, LONG_SEARCH)
    if taken > 0 and not load_short(w):
        return SOLVED, taken
    for node in range(NODES):
        w[V + node] = start_v[node]
    spent = abs(taken) + settle(w, q, now, cross, tables)
    last = solve(w, q, now, cross, tables, MOST_ITERATIONS)
    if last < 0:
        return NOT_SOLVED, spent - last
    return (BEYOND if load_sags(w) else RESTARTED), spent + last


@fast
def look(x: Any, q: Any, now: Any) -> float:
    """Fill in what this step decides; the charge below which nothing can be drawn."""
    p = P_PACK
    usual = line_through(x[CELL], WARMTHS_K, AVAILABLE)
    floor = 1.0 - (q[p + 7] if q[p + 7] >= 0.0 else usual)
    now[REST_V] = q[p] / 4.0 * line_through(x[CHARGE], REST_CHARGES, REST_VOLTS)
    now[PER_OHM] = 1.0 / (q[p + 3] * line_through(x[CELL], OHM_WARMTHS_K, OHM_FACTORS))
    now[ACCEPTS] = q[p + 4] * min(1.0, (1.0 - x[CHARGE]) / q[p + 5])
    locked = x[LOCKED] > 0.5
    now[GIVES] = 0.0 if x[EMPTY] > 0.5 or locked or x[CHARGE] <= floor else 1.0
    now[TAKES] = 0.0 if x[COLD] > 0.5 or locked or x[CELL] < q[p + 2] else 1.0
    is_open = x[OPEN] > 0.5 or x[OPEN_KEYED] > 0.5
    now[PER_CONTACT] = 0.0 if is_open else 1.0 / q[P_GUARD + 6]
    now[OWN] = q[P_GUARD + 3] if is_open else q[P_GUARD + 2]
    for k in range(2):
        at = P_CONTROL + 8 * k
        now[SUN + 2 * k] = x[AWAKE + k]
        above = (1.0 - x[AWAKE + k]) * (q[at + 6] - q[at + 5])
        now[SUN + 2 * k + 1] = q[at + 5] + above
    return floor


@fast
def latch(x: Any, held: Any, wait: Any, k: int, on: bool, off: bool, dt: float) -> None:
    """Set or clear after so many seconds in a row."""
    held[k, 0] = held[k, 0] + dt if on else 0.0
    held[k, 1] = held[k, 1] + dt if off else 0.0
    if held[k, 0] > 0.0 and held[k, 0] >= wait[k, 0] - DELAY_SLACK_S:
        x[k] = 1.0
    elif held[k, 1] > 0.0 and held[k, 1] >= wait[k, 1] - DELAY_SLACK_S:
        x[k] = 0.0


@fast
def advance(
    w: Any,
    x: Any,
    q: Any,
    now: Any,
    tables: Any,
    floor: float,
    around: float,
    dt: float,
    keep: float,
    held: Any,
    wait: Any,
) -> None:
    """States to the end of the step; `keep` is the share of the cells' warmth that stays."""
    for k in range(2):
        at = P_CONTROL + 8 * k
        v = w[V + CONTROL + k]
        watts = offer(tables[k], v + now[SUN + 2 * k + 1])[0]
        wakes = v > q[at + 7] and watts * q[at + 1] > q[at + 2] * v
        latch(x, held, wait, AWAKE + k, wakes, v < 0.9 * q[at + 7] or watts <= 0.0, dt)
    v = w[V + PACK]
    amps = battery(now, v)[0]
    p = P_PACK
    empties = x[CHARGE] <= floor or v < q[p + 6]
    wakes = amps > 0.0 and x[CHARGE] > floor + WAKE_SHARE
    cold, warm = x[CELL] < q[p + 2], x[CELL] > q[p + 2] + COLD_BAND_K
    x[CHARGE] = min(max(x[CHARGE] + dt * amps / q[p + 1], 0.0), 1.0)
    x[CELL] = keep * x[CELL] + (1.0 - keep) * around
    latch(x, held, wait, COLD, cold, warm, dt)
    latch(x, held, wait, EMPTY, empties, wakes, dt)
    locks = empties and v < q[p + 8] and amps <= 0.0
    latch(x, held, wait, LOCKED, locks, v > q[p + 8], dt)
    low, high = w[V + LINE] < q[P_GUARD], w[V + LINE] > q[P_GUARD + 1]
    latch(x, held, wait, OPEN, low, high, dt)
    latch(x, held, wait, OPEN_KEYED, low and q[P_GUARD + 5] > 0.5, high, dt)


@fast
def run(
    w: Any,
    q: Any,
    wait: Any,
    wanted: Any,
    around: Any,
    points: Any,
    dt: Any,
    start_v: Any,
    x: Any,
    volts: Any,
    states: Any,
    outcome: Any,
    turns: Any,
) -> None:
    """Step through time: `volts` (time, node), `states` (time + 1, state), `outcome` and `turns`
    (time,) are filled in. `points` (time, controller, 2 * POINTS), `wanted` (time, load), `dt`
    (time,). Stops at a step that it cannot solve."""
    now, cross = np.zeros(NOW), np.zeros(8)
    held = np.zeros((STATES, 2))
    long, keep = 0.0, 0.0
    for node in range(NODES):
        w[V + node] = start_v[node]
    for t in range(len(around)):
        for k in range(LOADS):
            w[WANTED + k] = wanted[t, k]
        for k in range(STATES):
            states[t, k] = x[k]
        floor = look(x, q, now)
        outcome[t], turns[t] = solve_step(w, q, now, cross, points[t], start_v)
        if outcome[t] >= NOT_SOLVED:
            return
        for node in range(NODES):
            volts[t, node] = w[V + node]
        if dt[t] != long:
            long = dt[t]
            keep = np.exp(-long / q[P_PACK + 9]) if q[P_PACK + 9] > 0.0 else 0.0
        advance(w, x, q, now, points[t], floor, around[t], long, keep, held, wait)
    for k in range(STATES):
        states[len(around), k] = x[k]


def workspace() -> Any:
    """The array `w`, empty."""
    return np.zeros(SIZE)
