"""A lithium iron phosphate battery with its protection board."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Ambient,
    Elementwise,
    FloatArray,
    Lag,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Suspect,
    Terminal,
    Values,
    elementwise,
    table,
    where,
)
from copperpath_plugins.storage.rest_curve import area_below
from copperpath_plugins.values import given

REST_CHARGES = (0.0, 0.10, 0.30, 0.60, 0.80, 1.0)
REST_VOLTS = (10.0, 12.8, 13.0, 13.2, 13.3, 13.6)
"""Rest voltage of four cells against charge: common practice, no source; charts differ by
0.15 V."""

WARMTHS_K = (253.15, 263.15, 273.15, 298.15)
AVAILABLE = (0.55, 0.66, 0.80, 1.0)
"""Share of the rated charge that can be drawn at -20, -10, 0 and 25 °C: common practice, no
source; published samples disagree (0.44 to 0.70 at -20 °C)."""

OHM_WARMTHS_K = (253.15, 273.15, 298.15)
OHM_FACTORS = (4.0, 2.0, 1.0)
"""Resistance against that at 25 °C, at -20, 0 and 25 °C: from memory."""

HIGHEST_CELL_V = 3.75
"""Volts a cell above which its board opens and charging harms: from memory."""

COLD_BAND_K = 2.0
"""Charging is allowed again this far above the temperature that blocks it: from memory."""

WAKE_SHARE = 0.02
"""Charge above the floor at which an empty battery gives current again: a choice."""

WAKE_PER_CELL_V = 3.0
"""Voltage for each cell at the poles that wakes a board which has locked itself off: from
memory."""


@elementwise
def floor_share(x: Elementwise, p: Elementwise) -> Elementwise:
    """Charge, as a share of the rated one, below which nothing can be drawn at this warmth."""
    usual = table(x.cell, WARMTHS_K, AVAILABLE)
    return 1.0 - where(p.fixed_available >= 0.0, p.fixed_available, usual)


@elementwise
def rest_voltage(x: Elementwise, p: Elementwise) -> Elementwise:
    """Open-circuit voltage [V]."""
    return p.cells / 4.0 * table(x.charge, REST_CHARGES, REST_VOLTS)


@elementwise
def inner_ohm(x: Elementwise, p: Elementwise) -> Elementwise:
    """Resistance of cells and board at this warmth [ohm]."""
    return p.ohm_warm * table(x.cell, OHM_WARMTHS_K, OHM_FACTORS)


class LithiumIronPhosphate(Model):
    """Rest voltage behind a resistance; cold block, taper at full, lock-out at empty.

    When the board cuts off it opens both ways: the poles read nothing. It wakes when something
    else holds them above `wake`, which a controller that lives from this battery cannot do. Awake
    it takes charge, and gives again once it has a little.
    """

    interface = 1
    name = "lfp"
    kind = "storage"
    summary = "a lithium iron phosphate battery with its protection board"
    leaves_out = (
        "ageing and self-discharge; the few milliamperes the protection board uses; the slow part "
        "of the voltage's sag and recovery; single cells out of step; its own warming by use; the "
        "cut-off looks at the mean voltage of a step, not at each key-down; boards that come back "
        "by themselves once the load is gone; a trip by too much current, and how much more than "
        "`charge_limit` it would take from a stiffer battery beside it; a battery that is full "
        "takes nothing, whatever the voltage"
    )
    parameters = (
        Parameter(
            "cells",
            "number",
            "cells in series",
            default=4.0,
            low=1.0,
            high=32.0,
            bound_reason="a battery has between 1 and 32 cells in series",
            whole=True,
            basis="four cells make a 12.8 V battery, the usual one",
            example="4",
        ),
        Parameter(
            "capacity",
            "charge",
            "rated charge at 25 degC",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a battery without capacity stores nothing",
            example="12 Ah",
            shown_unit="Ah",
        ),
        Parameter(
            "charge",
            "share",
            "how full it is at the start",
            default=1.0,
            low=0.0,
            high=1.0,
            bound_reason="0 % is an empty battery, 100 % a full one",
            basis="charged before leaving",
            example="90 %",
            shown_unit="%",
        ),
        Parameter(
            "reserve",
            "share",
            "share of the usable charge that is not planned with",
            default=0.0,
            low=0.0,
            high=1.0,
            bound_reason="a reserve is a share of the usable charge",
            basis="no reserve is kept unless the file asks for one",
            example="10 %",
            shown_unit="%",
        ),
        Parameter(
            "resistance",
            "resistance",
            "resistance of cells and protection board at 25 degC; twice that at 0 degC; "
            "12 mohm at 100 Ah, growing as capacity falls, if not given (from memory)",
            low=1e-5,
            high=10.0,
            bound_reason="a battery has between 10 µohm and 10 ohm",
            basis="12 mohm at 100 Ah, growing as capacity falls, from memory",
            example="45 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "charge_limit",
            "current",
            "the most current it takes; half its capacity in an hour if not given "
            "(common practice, no source)",
            low=0.0,
            bound_reason="a battery that is charged takes current",
            basis="half its capacity in an hour, common practice, no source",
            example="6 A",
            shown_unit="A",
        ),
        Parameter(
            "charge_above",
            "temperature",
            "cell temperature below which it refuses charge",
            default=273.15,
            low=173.15,
            high=333.15,
            bound_reason="protection boards block somewhere between -100 degC and 60 degC",
            basis="lithium cells plate metal when charged below 0 degC; common practice, no source",
            example="0 degC",
            shown_unit="degC",
        ),
        Parameter(
            "cutoff",
            "voltage",
            "voltage at which its board cuts off; 2.6 V a cell if not given (from memory)",
            low=0.5,
            high=120.0,
            bound_reason="a cut-off lies between 0.5 V and 120 V",
            basis="2.6 V a cell, from memory",
            example="10.4 V",
            shown_unit="V",
        ),
        Parameter(
            "wake",
            "voltage",
            "voltage at its poles, held by something else, that wakes the board after it has cut "
            "off; 3 V a cell if not given (from memory)",
            low=0.5,
            high=120.0,
            bound_reason="boards wake somewhere between 0.5 V and 120 V",
            basis="3 V a cell, from memory",
            example="12 V",
            shown_unit="V",
        ),
        Parameter(
            "available",
            "share",
            "share of the rated charge that can be drawn; if not given, 100 % at 25 degC, 80 % at "
            "0 degC, 66 % at -10 degC, 55 % at -20 degC (common practice, no source)",
            low=0.01,
            high=1.0,
            bound_reason="at least 1 % and at most all of the rated charge can be drawn",
            basis="by warmth: 100 % at 25 degC, 80 % at 0, 66 % at -10, 55 % at -20 degC, common "
            "practice, no source",
            example="85 %",
            shown_unit="%",
        ),
        Ambient("temperature", "temperature around the battery"),
        Parameter(
            "thermal_lag",
            "time",
            "how long the cells take to follow the temperature around them",
            default=7200.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="a pack of about a kilogram in its case, from memory",
            example="2 h",
            shown_unit="h",
        ),
    )
    terminals = (Terminal("line", "its two poles", main=True, limit="highest_voltage"),)
    derived = (
        "ohm_warm",
        "most_charging",
        "taper_span",
        "cutoff_voltage",
        "wake_voltage",
        "fixed_available",
        "planned_floor",
        "full_voltage",
        "highest_voltage",
    )
    drives = ("around",)
    pushes = "full_voltage"
    states = (
        Accumulator("charge", "charge", carries_charge=True),
        Lag("cell", tau="thermal_lag", initial="around"),
        Latch("cold"),
        Latch("empty"),
        Latch("locked"),
    )
    suspects = (
        Suspect(
            "charging blocked by cold",
            "a battery that takes charge in the cold, or is kept just above freezing",
            (("charge_above", 100.0),),
            latch="cold",
        ),
        Suspect(
            "capacity lost to cold",
            "as much usable charge as it has at 25 degC",
            (("fixed_available", 1.0),),
            sizing=True,
        ),
        Suspect(
            "the battery is too small", "twice the battery", (("capacity", "*2"),), sizing=True
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Defaults that depend on capacity and cells, and the charge planned as the lowest."""
        cells, coulombs = float(p["cells"]), float(p["capacity"])
        resistance, limit = given(p, "resistance"), given(p, "charge_limit")
        available = given(p, "available")
        if resistance is None:
            # Through 45 mohm at about 15 Ah and 12 mohm at 100 Ah, four cells, board included.
            resistance = 0.012 * (100.0 * 3600.0 / coulombs) ** 0.7 * cells / 4.0
        if limit is None:
            limit = 0.5 * coulombs / 3600.0
        cutoff, wake = _board_voltages(p)
        floor = 1.0 - (_available_at_rest(p) if available is None else available)
        return {
            "ohm_warm": resistance,
            "most_charging": limit,
            # Wide enough that steps of five minutes do not overshoot the full battery.
            "taper_span": max(0.05, 360.0 * limit / coulombs),
            "cutoff_voltage": cutoff,
            "wake_voltage": wake,
            "fixed_available": -1.0 if available is None else available,
            "full_voltage": cells / 4.0 * REST_VOLTS[-1],
            "highest_voltage": HIGHEST_CELL_V * cells,
            "planned_floor": floor + float(p["reserve"]) * (1.0 - floor),
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`around`: temperature around the battery [K]."""
        return {"around": site.temperature(p["temperature"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the battery [A]."""
        amps = (v.line - rest_voltage(x, p)) / inner_ohm(x, p)
        empty = (x.empty > 0.5) | (x.locked > 0.5) | (x.charge <= floor_share(x, p))
        cold = (x.cold > 0.5) | (x.cell < p.charge_above)
        accepts = p.most_charging * np.minimum(1.0, (1.0 - x.charge) / p.taper_span)
        giving = where(empty, 0.0, np.minimum(amps, 0.0))
        taking = where(cold | (x.locked > 0.5), 0.0, np.minimum(np.maximum(amps, 0.0), accepts))
        return (giving + taking,)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of charge, temperature around, then set and clear of `cold`, `empty`, `locked`."""
        floor = floor_share(x, p)
        cuts_off = (x.charge <= floor) | (v.line < p.cutoff_voltage)
        return (
            i[0] / p.capacity,
            d.around,
            x.cell < p.charge_above,
            x.cell > p.charge_above + COLD_BAND_K,
            cuts_off,
            (i[0] > 0.0) & (x.charge > floor + WAKE_SHARE),
            # Charge that flows keeps the board awake, however low the cells still are.
            cuts_off & (v.line < p.wake_voltage) & (i[0] <= 0.0),
            v.line > p.wake_voltage,
        )

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the resistance, and in what holds back the current while it tapers [W]."""
        held_back = v.line - rest_voltage(x, p) - inner_ohm(x, p) * i[0]
        return inner_ohm(x, p) * i[0] ** 2 + np.maximum(held_back, 0.0) * np.maximum(i[0], 0.0)

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the store: rest voltage times current [W]."""
        return rest_voltage(x, p) * i[0]

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached, as a share of the rated one."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        """Energy held at a charge [J]: the area under the rest voltage over charge."""
        share = area_below(charge, REST_CHARGES, REST_VOLTS)
        return p.capacity * p.cells / 4.0 * share


def _board_voltages(p: Values) -> tuple[float, float]:
    """Where the board cuts off and where it wakes [V]."""
    cells = float(p["cells"])
    cutoff, wake = given(p, "cutoff"), given(p, "wake")
    full = cells / 4.0 * REST_VOLTS[-1]
    if cutoff is None:
        cutoff = 2.6 * cells
    elif cutoff >= full:
        raise ParameterProblem(
            "cutoff",
            f"{cutoff:.4g} V is above the {full:.4g} V of a full battery of {cells:g} cells",
            f"about {2.6 * cells:.4g} V is usual for {cells:g} cells",
        )
    if wake is None:
        return cutoff, max(WAKE_PER_CELL_V * cells, cutoff)
    if wake < cutoff:
        raise ParameterProblem(
            "wake",
            f"wakes at {wake:.4g} V, below the {cutoff:.4g} V at which it cuts off",
            f"about {WAKE_PER_CELL_V * cells:.4g} V is usual for {cells:g} cells",
        )
    return cutoff, wake


def _available_at_rest(p: Values) -> float:
    """Usable share at the battery's fixed temperature; at 25 °C where it follows the air, as the
    air is not known before a run."""
    rule = p.get("temperature")
    fixed = None if rule is None else rule.fixed_k
    return float(np.interp(298.15 if fixed is None else fixed, WARMTHS_K, AVAILABLE))
