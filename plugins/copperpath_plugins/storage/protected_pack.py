"""A lithium battery behind its protection board, whatever its cells.

Rest voltage behind a resistance; cold block, taper at full, lock-out at empty. When the board cuts
off it opens both ways: the poles read nothing. It wakes when something else holds them above
`wake`, which a controller that lives from this battery cannot do. Awake it takes charge, and gives
again once it has a little. What is particular to the cells (rest voltage, resistance and usable
charge by warmth) is worked out by the model and handed over.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Elementwise,
    FloatArray,
    Lag,
    Latch,
    ParameterProblem,
    State,
    Surroundings,
    Suspect,
    Terminal,
    Values,
    elementwise,
    where,
)
from copperpath_plugins.storage.charge_kept import MONTH_S, kept_amps, lost_share
from copperpath_plugins.storage.pack_parameters import Chemistry
from copperpath_plugins.storage.usable_charge import LOST_TO_COLD, TOO_SMALL, floor_at_rest
from copperpath_plugins.values import given

OHM_WARMTHS_K = (253.15, 273.15, 298.15)
OHM_FACTORS = (4.0, 2.0, 1.0)
"""Resistance against that at 25 °C, at -20, 0 and 25 °C: from memory."""

COLD_BAND_K = 2.0
"""Charging is allowed again this far above the temperature that blocks it: from memory."""

WAKE_SHARE = 0.02
"""Charge above the floor at which an empty battery gives current again: a choice."""

BARE_SHARE = 0.02
"""Last share of all charge over which what the board takes fades to nothing: a choice."""

PACK_TERMINALS = (Terminal("line", "its two poles", main=True, limit="highest_voltage"),)
PACK_DERIVED = (
    "ohm_warm",
    "most_charging",
    "taper_span",
    "self_rate",
    "cutoff_voltage",
    "wake_voltage",
    "fixed_available",
    "planned_floor",
    "full_voltage",
    "highest_voltage",
)
PACK_STATES: tuple[State, ...] = (
    Accumulator("charge", "charge", carries_charge=True),
    Lag("cell", tau="thermal_lag", initial="around"),
    Latch("cold"),
    Latch("empty"),
    Latch("locked"),
)
PACK_SUSPECTS = (
    Suspect(
        "charging blocked by cold",
        "a battery that takes charge in the cold, or is kept just above freezing",
        (("charge_above", 100.0),),
        latch="cold",
    ),
    LOST_TO_COLD,
    TOO_SMALL,
)


def pack_values(p: Values, chemistry: Chemistry, full_voltage: float) -> dict[str, float]:
    """Values for `PACK_DERIVED`; `full_voltage` is that of the full battery at rest [V].

    Raises
    ------
    ParameterProblem
        If the board's voltages do not fit.
    """
    cells, coulombs = float(p["cells"]), float(p["capacity"])
    resistance, limit = given(p, "resistance"), given(p, "charge_limit")
    available = given(p, "available")
    if resistance is None:
        # Through 45 mohm at about 15 Ah and 12 mohm at 100 Ah, four cells, board included.
        resistance = 0.012 * (100.0 * 3600.0 / coulombs) ** 0.7 * cells / 4.0
    if limit is None:
        limit = 0.5 * coulombs / 3600.0
    cutoff, wake = _board_voltages(p, chemistry, full_voltage)
    floor = floor_at_rest(p, chemistry.warmths_k, chemistry.available)
    return {
        "ohm_warm": resistance,
        "most_charging": limit,
        # Wide enough that steps of five minutes do not overshoot the full battery.
        "taper_span": max(0.05, 360.0 * limit / coulombs),
        "self_rate": float(p["self_discharge"]) / MONTH_S,
        "cutoff_voltage": cutoff,
        "wake_voltage": wake,
        "fixed_available": -1.0 if available is None else available,
        "full_voltage": full_voltage,
        "highest_voltage": chemistry.highest_v * cells,
        "planned_floor": floor + float(p["reserve"]) * (1.0 - floor),
    }


def pack_drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
    """`around`: temperature around the battery [K]."""
    return {"around": site.temperature(p["temperature"])}


@elementwise
def pack_amps(
    volts: Elementwise,
    rest: Elementwise,
    ohm: Elementwise,
    floor: Elementwise,
    x: Elementwise,
    p: Elementwise,
) -> Elementwise:
    """Current into the battery [A]."""
    amps = (volts - rest) / ohm
    empty = (x.empty > 0.5) | (x.locked > 0.5) | (x.charge <= floor)
    cold = (x.cold > 0.5) | (x.cell < p.charge_above)
    accepts = p.most_charging * np.minimum(1.0, (1.0 - x.charge) / p.taper_span)
    giving = where(empty, 0.0, np.minimum(amps, 0.0))
    taking = where(cold | (x.locked > 0.5), 0.0, np.minimum(np.maximum(amps, 0.0), accepts))
    return giving + taking


@elementwise
def board_amps(x: Elementwise, p: Elementwise) -> Elementwise:
    """What the board takes from the cells: nothing once it is locked or they are bare [A]."""
    return (1.0 - x.locked) * p.board_current * np.minimum(x.charge / BARE_SHARE, 1.0)


@elementwise
def pack_rate(amps: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """How fast the charge grows, as a share of the rated one [1/s]."""
    kept = kept_amps(amps, p.efficiency) - board_amps(x, p)
    return kept / p.capacity - lost_share(x.charge, x.cell, p.self_rate)


@elementwise
def pack_signals(
    volts: Elementwise,
    amps: Elementwise,
    floor: Elementwise,
    around: Elementwise,
    x: Elementwise,
    p: Elementwise,
) -> Elementwise:
    """Rate of charge, temperature around, then set and clear of `cold`, `empty`, `locked`."""
    cuts_off = (x.charge <= floor) | (volts < p.cutoff_voltage)
    return (
        pack_rate(amps, x, p),
        around,
        x.cell < p.charge_above,
        x.cell > p.charge_above + COLD_BAND_K,
        cuts_off,
        (amps > 0.0) & (x.charge > floor + WAKE_SHARE),
        # Charge that flows keeps the board awake, however low the cells still are.
        cuts_off & (volts < p.wake_voltage) & (amps <= 0.0),
        volts > p.wake_voltage,
    )


@elementwise
def pack_heat(
    volts: Elementwise,
    amps: Elementwise,
    rest: Elementwise,
    ohm: Elementwise,
    x: Elementwise,
    p: Elementwise,
) -> Elementwise:
    """Loss in the resistance, in what holds back the current while it tapers, and charge that is
    not kept [W]."""
    held_back = volts - rest - ohm * amps
    lost = rest * (amps - pack_rate(amps, x, p) * p.capacity)
    return ohm * amps**2 + np.maximum(held_back, 0.0) * np.maximum(amps, 0.0) + lost


def _board_voltages(p: Values, chemistry: Chemistry, full_voltage: float) -> tuple[float, float]:
    """Where the board cuts off and where it wakes [V]."""
    cells = float(p["cells"])
    cutoff, wake = given(p, "cutoff"), given(p, "wake")
    if cutoff is None:
        cutoff = chemistry.cutoff_v * cells
    elif cutoff >= full_voltage:
        raise ParameterProblem(
            "cutoff",
            f"{cutoff:.4g} V is above the {full_voltage:.4g} V of a full battery of {cells:g} "
            "cells",
            f"about {chemistry.cutoff_v * cells:.4g} V is usual for {cells:g} cells",
        )
    if wake is None:
        return cutoff, max(chemistry.wake_v * cells, cutoff)
    if wake < cutoff:
        raise ParameterProblem(
            "wake",
            f"wakes at {wake:.4g} V, below the {cutoff:.4g} V at which it cuts off",
            f"about {chemistry.wake_v * cells:.4g} V is usual for {cells:g} cells",
        )
    return cutoff, wake
