"""A battery of nickel-metal hydride cells, without a protection board."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Ambient,
    Elementwise,
    FloatArray,
    Lag,
    Model,
    Parameter,
    Surroundings,
    Suspect,
    Terminal,
    Values,
    between,
    elementwise,
    table,
)
from copperpath_plugins.storage.charge_kept import MONTH_S, kept_amps, lost_share
from copperpath_plugins.storage.pack_parameters import CHARGE
from copperpath_plugins.storage.resistance_by_charge import empty_resistance, towards_empty
from copperpath_plugins.storage.rest_curve import area_below
from copperpath_plugins.storage.usable_charge import (
    LOST_TO_COLD,
    TOO_SMALL,
    floor_at_rest,
    floor_under,
)
from copperpath_plugins.values import given

REST_CHARGES = (0.0, 0.05, 0.20, 0.50, 0.80, 1.0)
REST_CELL_V = (1.00, 1.15, 1.22, 1.27, 1.31, 1.38)
"""Rest voltage of a cell against charge: from memory, as typical."""

WARMTHS_K = (253.15, 263.15, 273.15, 298.15)
AVAILABLE = (0.60, 0.75, 0.90, 1.0)
"""Share of the rated charge that can be drawn at -20, -10, 0 and 25 °C: from memory."""

OHM_WARMTHS_K = (253.15, 273.15, 298.15)
OHM_FACTORS = (2.5, 1.5, 1.0)
"""Resistance against that at 25 °C: from memory."""

CELL_OHM_COULOMB = 0.05 * 3600.0
"""Resistance of a cell times its charge: 25 mohm at 2 Ah, from memory."""

HIGHEST_CELL_V = 1.65
"""Volts a cell above which any charging harms: from memory."""

FADES_SHARE = 0.02
"""Last share of the usable charge over which the current fades to nothing: a choice."""


@elementwise
def floor_share(x: Elementwise, p: Elementwise) -> Elementwise:
    """Charge, as a share of the rated one, below which nothing can be drawn at this warmth."""
    return floor_under(table(x.cell, WARMTHS_K, AVAILABLE), p)


@elementwise
def rest_voltage(x: Elementwise, p: Elementwise) -> Elementwise:
    """Open-circuit voltage [V]."""
    return p.cells * table(x.charge, REST_CHARGES, REST_CELL_V)


@elementwise
def inner_ohm(x: Elementwise, p: Elementwise) -> Elementwise:
    """Resistance at this warmth and charge [ohm]."""
    warm = p.ohm_warm * towards_empty(x.charge, p)
    return warm * table(x.cell, OHM_WARMTHS_K, OHM_FACTORS)


@elementwise
def rate_of_charge(amps: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """How fast the charge grows, as a share of the rated one [1/s]."""
    return kept_amps(amps, p.efficiency) / p.capacity - lost_share(x.charge, x.cell, p.self_rate)


class NickelMetalHydride(Model):
    """Rest voltage behind a resistance; charging and waiting both lose a good part."""

    interface = 1
    name = "nickel_metal_hydride"
    kind = "storage"
    summary = "a nickel-metal hydride battery: robust, loses charge while charged and while waiting"
    leaves_out = (
        "ageing; the rise and dip of the voltage at the end of charge, by which its chargers know "
        "that it is full, and overcharge: a full battery takes nothing; that charging loses little "
        "while it is empty and most near full (the efficiency is a mean); single cells that "
        "reverse when drawn too far; its own warming by use; that charging below 0 degC harms it, "
        "which nothing here prevents"
    )
    parameters = (
        Parameter(
            "cells",
            "number",
            "cells in series: ten make 12 V",
            required=True,
            low=1.0,
            high=80.0,
            bound_reason="a battery has between 1 and 80 cells in series",
            whole=True,
            example="10",
        ),
        *CHARGE,
        Parameter(
            "efficiency",
            "share",
            "charge that can be drawn again as a share of what went in, on the mean",
            default=0.8,
            low=0.3,
            high=1.0,
            bound_reason="a battery gives no more charge than it took",
            basis="70 to 90 %, from memory",
            example="80 %",
            shown_unit="%",
        ),
        Parameter(
            "self_discharge",
            "share",
            "what it loses in a month at 25 degC when full, twice as much 10 K warmer",
            default=0.25,
            low=0.0,
            high=1.0,
            bound_reason="it loses between nothing and everything",
            basis="20 to 30 %, from memory; cells of low self-discharge 1 to 3 %",
            example="25 %",
            shown_unit="%",
        ),
        Parameter(
            "resistance",
            "resistance",
            "resistance at 25 degC, 1.5 times that at 0 degC; 25 mohm a cell at 2 Ah, growing as "
            "capacity falls, if not given (from memory)",
            low=1e-5,
            high=100.0,
            bound_reason="a battery has between 10 µohm and 100 ohm",
            basis="25 mohm a cell at 2 Ah, from memory",
            example="250 mohm",
            shown_unit="mohm",
        ),
        empty_resistance(1.0, "a resistance that stays, unless the file says more"),
        Parameter(
            "charge_limit",
            "current",
            "the most current it takes; half its capacity in an hour if not given (from memory)",
            low=0.0,
            bound_reason="a battery that is charged takes current",
            basis="half its capacity in an hour, from memory",
            example="1 A",
            shown_unit="A",
        ),
        Parameter(
            "available",
            "share",
            "share of the rated charge that can be drawn; if not given, 100 % at 25 degC, 90 % at "
            "0 degC, 75 % at -10 degC, 60 % at -20 degC (from memory)",
            low=0.01,
            high=1.0,
            bound_reason="at least 1 % and at most all of the rated charge can be drawn",
            basis="by warmth: 100 % at 25 degC, 90 % at 0, 75 % at -10, 60 % at -20 degC, from "
            "memory",
            example="85 %",
            shown_unit="%",
        ),
        Ambient("temperature", "temperature around the battery"),
        Parameter(
            "thermal_lag",
            "time",
            "how long the cells take to follow the temperature around them",
            default=3600.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="half a kilogram in its case, from memory",
            example="1 h",
            shown_unit="h",
        ),
    )
    terminals = (Terminal("line", "its two poles", main=True, limit="highest_voltage"),)
    derived = (
        "ohm_warm",
        "most_charging",
        "taper_span",
        "self_rate",
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
    )
    suspects = (
        LOST_TO_COLD,
        Suspect("self-discharge", "cells of low self-discharge", (("self_discharge", 0.02),)),
        TOO_SMALL,
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Defaults that depend on capacity and cells, and the charge planned as the lowest."""
        cells, coulombs = float(p["cells"]), float(p["capacity"])
        ohm, limit, available = (
            given(p, name) for name in ("resistance", "charge_limit", "available")
        )
        if limit is None:
            limit = 0.5 * coulombs / 3600.0
        floor = floor_at_rest(p, WARMTHS_K, AVAILABLE)
        return {
            "ohm_warm": cells * CELL_OHM_COULOMB / coulombs if ohm is None else ohm,
            "most_charging": limit,
            # Wide enough that steps of five minutes do not overshoot the full battery.
            "taper_span": max(0.05, 360.0 * limit / coulombs),
            "self_rate": float(p["self_discharge"]) / MONTH_S,
            "fixed_available": -1.0 if available is None else available,
            "planned_floor": floor + float(p["reserve"]) * (1.0 - floor),
            "full_voltage": REST_CELL_V[-1] * cells,
            "highest_voltage": HIGHEST_CELL_V * cells,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`around`: temperature around the battery [K]."""
        return {"around": site.temperature(p["temperature"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the battery [A]."""
        amps = (v.line - rest_voltage(x, p)) / inner_ohm(x, p)
        fade = between((x.charge - floor_share(x, p)) / FADES_SHARE, 0.0, 1.0)
        accepts = p.most_charging * np.minimum(1.0, (1.0 - x.charge) / p.taper_span)
        return (fade * np.minimum(amps, 0.0) + np.minimum(np.maximum(amps, 0.0), accepts),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of charge and temperature around."""
        return (rate_of_charge(i[0], x, p), d.around)

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the resistance and what fades the current, and charge that is not kept [W]."""
        rest = rest_voltage(x, p)
        return (v.line - rest) * i[0] + rest * (i[0] - rate_of_charge(i[0], x, p) * p.capacity)

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the store: rest voltage times what is kept [W]."""
        return rest_voltage(x, p) * rate_of_charge(i[0], x, p) * p.capacity

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached, as a share of the rated one."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        """Energy held at a charge [J]: the area under the rest voltage over charge."""
        return p.capacity * p.cells * area_below(charge, REST_CHARGES, REST_CELL_V)
