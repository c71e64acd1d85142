"""Heater pads under the cells of a battery, and the warmth that they make.

The cells follow the air around them slowly; what is turned to heat in their case raises the
temperature that they go to by its power times `case_resistance`:

    tau dT/dt = T_air + R_case P - T,    tau = R_case C

The pads hang on the battery's own poles, outside of its protection board, so that a charger feeds
them though the cold board takes no charge.
"""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    AnyParameter,
    Choice,
    Elementwise,
    Latch,
    Parameter,
    ParameterProblem,
    State,
    Values,
    elementwise,
)
from copperpath_plugins.loads.surplus import SURPLUS_PARAMETERS, check_surplus

PAD_PARAMETERS: tuple[AnyParameter, ...] = (
    Parameter(
        "pads",
        "power",
        "what the pads take together at the voltage `pads_rated_at`",
        required=True,
        low=0.0,
        low_allowed=False,
        high=2000.0,
        bound_reason="pads under a battery take up to 2 kW",
        example="20 W",
        shown_unit="W",
    ),
    Parameter(
        "pads_rated_at",
        "voltage",
        "the voltage at which they take that power",
        default=12.0,
        low=1.0,
        high=120.0,
        bound_reason="pads here are made for between 1 V and 120 V",
        basis="12 V, as printed on most pads, from memory",
        example="12 V",
        shown_unit="V",
    ),
    Parameter(
        "pads_below",
        "temperature",
        "cell temperature below which they are switched on",
        default=275.15,
        low=173.15,
        high=333.15,
        bound_reason="thermostats here switch between -100 degC and 60 degC",
        basis="2 degC, so that cells that must not be charged below freezing stay above, from "
        "memory",
        example="2 degC",
        shown_unit="degC",
    ),
    Parameter(
        "pads_band",
        "temperature_difference",
        "how much warmer the cells must get before they are switched off",
        default=3.0,
        low=0.0,
        high=50.0,
        bound_reason="thermostats switch off at most 50 K above where they switch on",
        basis="2 to 5 K for simple thermostats, from memory",
        example="3 K",
        shown_unit="K",
    ),
    Choice(
        "pads_run",
        ("on_surplus", "always"),
        "`on_surplus`: only while a voltage at the poles above `surplus_above` tells of more sun "
        "than is needed; `always`: from the battery too, whenever its cells are cold",
        default="on_surplus",
        basis="so that they never empty the battery that they warm, common practice, no source",
    ),
    *SURPLUS_PARAMETERS,
    Parameter(
        "case_resistance",
        "thermal_resistance",
        "how much warmer than the air around the case the cells get for each watt inside",
        default=1.0,
        low=0.01,
        high=100.0,
        bound_reason="cases let through between 10 mW and 100 W for each kelvin",
        basis="a box of 0.5 m2 in 2 cm of foam: 0.02 m / (0.035 W/m/K x 0.5 m2), textbook formula",
        example="1 K/W",
        shown_unit="K/W",
    ),
    Parameter(
        "heat_capacity",
        "heat_capacity",
        "heat that warms cells and case by a kelvin; from `thermal_lag` and `case_resistance` if "
        "not given",
        low=1.0,
        high=1e7,
        bound_reason="a battery stores between 1 J and 10 MJ for each kelvin",
        basis="`thermal_lag` divided by `case_resistance`; about 1 kJ/K for each kilogram of "
        "cells, from memory",
        example="10000 J/K",
        shown_unit="J/K",
    ),
)
PAD_DERIVED = ("pad_siemens", "waits_for_surplus", "cell_tau")
PAD_STATES: tuple[State, ...] = (
    Latch("heating"),
    Latch("connected", set_after="surplus_delay", clear_after="surplus_delay"),
)


def pad_values(p: Values, latest_v: float) -> dict[str, float]:
    """Values for `PAD_DERIVED`; `latest_v` is the highest voltage that its charger may hold.

    Raises
    ------
    ParameterProblem
        If the relay's voltages are not in order, or above what the battery may ever see.
    """
    rests = p["pads_run"] == "on_surplus"
    if rests:
        check_surplus(p)
        if float(p["surplus_above"]) >= latest_v:
            raise ParameterProblem(
                "surplus_above",
                f"connects the pads above {float(p['surplus_above']):.4g} V, which is not below "
                f"the {latest_v:.4g} V that this battery may see at the most",
                f"about {0.93 * latest_v:.4g} V is usual here",
            )
    held, resistance = p["heat_capacity"], float(p["case_resistance"])
    known = held is not None and held == held
    return {
        "pad_siemens": float(p["pads"]) / float(p["pads_rated_at"]) ** 2,
        "waits_for_surplus": 1.0 if rests else 0.0,
        "cell_tau": resistance * float(held) if known else float(p["thermal_lag"]),
    }


@elementwise
def pad_amps(volts: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current that the pads take [A]."""
    on = x.heating * (1.0 - p.waits_for_surplus * (1.0 - x.connected))
    return on * p.pad_siemens * volts


@elementwise
def warmed(around: Elementwise, watts: Elementwise, p: Elementwise) -> Elementwise:
    """Where the cells' temperature goes with so many watts turned to heat in the case [K]."""
    return around + p.case_resistance * watts


@elementwise
def pad_signals(volts: Elementwise, x: Elementwise, p: Elementwise) -> Any:
    """Set and clear of `heating`, then of `connected`."""
    return (
        x.cell < p.pads_below,
        x.cell > p.pads_below + p.pads_band,
        volts > p.surplus_above,
        volts < p.surplus_below,
    )
