"""The laws of the devices of `ridge_post.station` with their slopes, written out by hand.

Everything of a node or a load lies in one array `w`, in rows with fixed beginnings, for then the
compiler can prove that no row overlaps another and does several loads at once. Part of
`hand_loop.py`; used by the bench and its test only, never by the package.
"""

from __future__ import annotations

from typing import Any

from numba import njit

# ---- nodes --------------------------------------------------------------------------------------
LOADS = 36
IN, OUT = 36, 40
"""First of the four inputs and of the four outputs of the step-downs."""
CONTROL, PACK, LINE, LOAD, HUB, FAR, FORK = 44, 46, 47, 48, 49, 50, 51
NODES = 52
SPANS = (
    (0, 4, HUB),
    (4, 16, FAR),
    (16, 18, FORK),
    (18, 23, OUT),
    (23, 28, OUT + 1),
    (28, 32, OUT + 2),
    (32, 36, OUT + 3),
)
"""Loads from, to, and the node they hang on."""

# ---- rows of `w` --------------------------------------------------------------------------------
V, STEP, REST, DIAGONAL, LAST, LIMIT, CALM, STILL = (NODES * row for row in range(8))
"""Of nodes. STILL is the part of the diagonal that never changes: leak and branches."""
_AFTER = NODES * 8
SIEMENS, LOWEST, PER_LOWEST, WATTS, AMPS, OHMIC, WANTED, ABOVE, SHARE, FLOW, SQUARE = (
    _AFTER + LOADS * row for row in range(11)
)
"""Of loads: branch conductance, law, drive, volts of the node it hangs on; and of the elimination:
branch over pivot, current through the branch, what the pivot takes from the node before it."""
SIZE = _AFTER + LOADS * 11

# ---- the other branches and devices: places in `q` ----------------------------------------------
G_CONTROL, G_PACK, G_LINE, G_LOAD, G_FORK, G_IN = 0, 2, 3, 4, 5, 6
"""Conductances towards the hub, or from the far strip."""
P_CONTROL = 10
"""limit, efficiency, idle, absorb, droop, headroom, start_headroom, start_voltage; twice."""
P_DOWN = 26
"""output, limit, input_low, efficiency, idle, output_resistance; four times."""
P_PACK = 50
"""cells, capacity, charge_above, ohm_warm, most_charging, taper_span, cutoff, fixed_available,
wake_voltage, thermal_lag."""
P_GUARD = 60
"""off, on, draw, amps_open, fades_below, keyed_opens, contact."""
CONSTANTS = 67

# ---- what one step decides: places in `now` -----------------------------------------------------
REST_V, PER_OHM, ACCEPTS, GIVES, TAKES, OWN, PER_CONTACT, SUN = 0, 1, 2, 3, 4, 5, 6, 7
"""Rest voltage, conductance, most charge current, 1 if it gives, 1 if it takes; the disconnect's
own draw and conductance; then two numbers for each controller: awake, how far its floor is above
the battery."""
NOW = 11

# ---- states -------------------------------------------------------------------------------------
AWAKE, CHARGE, CELL, COLD, EMPTY, LOCKED, OPEN, OPEN_KEYED = 0, 2, 3, 4, 5, 6, 7, 8
STATES = 9
"""Beside these the engine carries two for each controller's stages, which are nothing here, for
both hold one voltage all the time."""

POINTS = 24
LEAK = 1e-9
FADE_V = 0.5
BLEED_S = 2e-5
REST_CHARGES = (0.0, 0.10, 0.30, 0.60, 0.80, 1.0)
REST_VOLTS = (10.0, 12.8, 13.0, 13.2, 13.3, 13.6)
WARMTHS_K = (253.15, 263.15, 273.15, 298.15)
AVAILABLE = (0.55, 0.66, 0.80, 1.0)
OHM_WARMTHS_K = (253.15, 273.15, 298.15)
OHM_FACTORS = (4.0, 2.0, 1.0)

# Sums may be taken in any order and a product joined with a sum; NaN keeps its meaning.
fast: Any = njit(error_model="numpy", cache=True, nogil=True, fastmath={"reassoc", "contract"})


@fast
def line_through(at: float, xs: Any, ys: Any) -> float:
    """Straight lines through points, level beyond both ends."""
    if at <= xs[0]:
        return float(ys[0])
    for k in range(1, len(xs)):
        if at <= xs[k]:
            slope = (ys[k] - ys[k - 1]) / (xs[k] - xs[k - 1])
            return float(slope * (at - xs[k - 1]) + ys[k - 1])
    return float(ys[len(ys) - 1])


@fast
def held_current(v: float, amps: float, lowest: float) -> tuple[float, float]:
    """A held current that fades between `lowest` and half of it, and its slope."""
    share = 2.0 * v / lowest - 1.0
    if share >= 1.0:
        return amps, 0.0
    if share <= 0.0:
        return 0.0, 0.0
    return amps * share, 2.0 * amps / lowest


@fast
def offer(table: Any, floor: float) -> tuple[float, float]:
    """Most power at or above `floor`, and its slope."""
    if floor <= table[0]:
        return table[POINTS], 0.0
    for k in range(1, POINTS):
        if floor <= table[k]:
            wide = max(table[k] - table[k - 1], 1e-12)
            slope = (table[POINTS + k] - table[POINTS + k - 1]) / wide
            return table[POINTS + k - 1] + slope * (floor - table[k - 1]), slope
    return table[2 * POINTS - 1], 0.0


@fast
def loads(w: Any) -> None:
    """REST and DIAGONAL of all loads, current in their branches."""
    for k in range(LOADS):
        v = w[V + k]
        lowest, siemens = w[LOWEST + k], w[SIEMENS + k]
        per_v = 1.0 / max(v, lowest)
        held = w[WATTS + k] * per_v
        below = v < lowest
        amps = held * (v * w[PER_LOWEST + k] if below else 1.0)
        slope = held * (per_v if below else -per_v)
        share = 2.0 * v * w[PER_LOWEST + k] - 1.0
        fading = 2.0 * w[PER_LOWEST + k] if share > 0.0 else 0.0
        amps += w[AMPS + k] * min(max(share, 0.0), 1.0) + w[OHMIC + k] * v
        slope += w[AMPS + k] * (fading if share < 1.0 else 0.0) + w[OHMIC + k]
        flow = siemens * (v - w[ABOVE + k])
        w[FLOW + k] = flow
        w[REST + k] = LEAK * v + flow + w[WANTED + k] * amps
        w[DIAGONAL + k] = LEAK + siemens + w[WANTED + k] * slope


@fast
def controller(q: Any, now: Any, k: int, v: float, table: Any) -> tuple[float, float]:
    """Current into one controller's battery side, and its slope."""
    at = P_CONTROL + 8 * k
    limit, efficiency, idle, absorb, droop = q[at], q[at + 1], q[at + 2], q[at + 3], q[at + 4]
    taken, taken_slope = held_current(v, idle, q[at + 7])
    if now[SUN + 2 * k] == 0.0:
        return taken, taken_slope
    watts, watts_slope = offer(table, v + now[SUN + 2 * k + 1])
    per_v = 1.0 / max(v, 1.0)
    amps = watts * efficiency * per_v
    slope = watts_slope * efficiency * per_v - (amps * per_v if v > 1.0 else 0.0)
    if limit < amps:
        amps, slope = limit, 0.0
    wanted = (absorb - v) / droop
    if wanted < amps:
        amps, slope = wanted, -1.0 / droop
    if amps <= 0.0 or v <= 0.0:
        return taken, taken_slope
    if v < 1.0:
        amps, slope = v * amps, v * slope + amps
    return taken - amps, taken_slope - slope


@fast
def battery(now: Any, v: float) -> tuple[float, float]:
    """Current into the battery, and its slope."""
    amps = (v - now[REST_V]) * now[PER_OHM]
    if amps < 0.0:
        return now[GIVES] * amps, now[GIVES] * now[PER_OHM]
    if amps > now[ACCEPTS]:
        return now[TAKES] * now[ACCEPTS], 0.0
    return now[TAKES] * amps, now[TAKES] * now[PER_OHM]


@fast
def step_down(
    q: Any, k: int, vi: float, vo: float
) -> tuple[float, float, float, float, float, float]:
    """Currents into input and output, then slopes: input by input, input by output, output by
    input, output by output."""
    at = P_DOWN + 6 * k
    lowest, efficiency = q[at + 2], q[at + 3]
    fade, fade_slope = (vi - lowest + FADE_V) / FADE_V, 1.0 / FADE_V
    if fade >= 1.0:
        fade, fade_slope = 1.0, 0.0
    elif fade <= 0.0:
        fade, fade_slope = 0.0, 0.0
    given, given_slope = (q[at] - vo) / q[at + 5], -1.0 / q[at + 5]
    if given >= q[at + 1]:
        given, given_slope = q[at + 1], 0.0
    elif given <= 0.0:
        given, given_slope = 0.0, 0.0
    amps, by_in, by_out = fade * given, fade_slope * given, fade * given_slope
    taken, taken_slope = held_current(vi, q[at + 4], lowest)
    bottom = lowest - FADE_V
    per_in = 1.0 / (efficiency * max(vi, bottom))
    watts = vo * amps
    taken_by_out = 0.0
    if watts > 0.0:
        through = watts * per_in
        taken += through
        taken_slope += vo * by_in * per_in - (through / vi if vi > bottom else 0.0)
        taken_by_out = (amps + vo * by_out) * per_in
    return taken, BLEED_S * vo - amps, taken_slope, taken_by_out, -by_in, BLEED_S - by_out
