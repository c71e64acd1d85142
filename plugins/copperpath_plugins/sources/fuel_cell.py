"""A fuel cell with a tank: its voltage falls along a curve as it gives more."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Choice,
    Elementwise,
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    between,
    elementwise,
    where,
)
from copperpath_plugins.sources.fuel_tank import DRY, FILLED, FUEL, ran_out
from copperpath_plugins.sources.panel_curve import bent
from copperpath_plugins.sources.power_output import BLEED_S
from copperpath_plugins.values import given

HEATING_VALUES = {"methanol": 15.7e9, "propane": 23.5e9, "hydrogen": 10.79e6}
"""Lower heating value [J/m³] of methanol at 25 °C, of liquid propane at 15 °C, and of hydrogen as a
gas at 0 °C and 101.325 kPa (normal litres): enthalpies of formation of the CODATA and NIST tables
over molar volumes, from memory; tests work them out again."""

EFFICIENCIES = {"methanol": 0.22, "propane": 0.25, "hydrogen": 0.45}
"""Middle of 20 to 25 %, 20 to 30 % and 40 to 50 % of the lower heating value: from memory."""

CELL_V = 0.95
TAFEL_V = 0.06
"""Open-circuit voltage of one cell, and volts by which its loss grows as the current grows by e:
J. Larminie and A. Dicks, Fuel Cell Systems Explained, chapter 3, from memory."""

STEEPEST = math.log(20.0)
"""The curve of the reaction goes on as a straight line from twenty times the rated current."""


@elementwise
def stack_amps(v: Elementwise, x: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """Current of the reaction [A], none backwards."""
    made = p.exchange * bent((p.open_voltage - v.stack) / p.slope, p.steepest)
    return d.runs * where(x.fuel > 0.0, 1.0, 0.0) * np.maximum(made, 0.0)


class FuelCell(Model):
    """Voltage at a current: open - slope log(1 + current/exchange) - ohm current (Tafel's line and
    a resistance), through the open voltage and the rated point; a private node stands between."""

    name = "fuel_cell"
    kind = "source"
    interface = 1
    summary = "a fuel cell with a tank, that runs by the hour"
    leaves_out = (
        "starting and stopping, which take minutes and fuel; a converter of its own at the output "
        "(give the voltages at its leads); age, cold, thin air, clean fuel; changing the tank; a "
        "small steady draw while it is off. Hydrogen and propane burn, methanol is poisonous, "
        "and exhaust can hold carbon monoxide: outdoors, or a vent"
    )
    parameters = (
        Parameter(
            "voltage",
            "voltage",
            "voltage at its rated current",
            required=True,
            low=0.3,
            high=100.0,
            bound_reason="fuel cells here have between 0.3 V and 100 V",
            example="13.6 V",
            shown_unit="V",
        ),
        Parameter(
            "open_voltage",
            "voltage",
            "voltage while it runs with nothing connected",
            required=True,
            low=0.3,
            high=120.0,
            bound_reason="fuel cells here have between 0.3 V and 120 V",
            example="19 V",
            shown_unit="V",
        ),
        Parameter(
            "current",
            "current",
            "rated current, which is also the most it gives",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1000.0,
            bound_reason="fuel cells here give up to 1000 A",
            example="3.5 A",
            shown_unit="A",
        ),
        Parameter(
            "early",
            "share",
            "share of the fall to the rated voltage that comes with the first small currents; 0 "
            "for a straight line",
            default=0.5,
            low=0.0,
            high=0.9,
            bound_reason="the reaction takes a share of the fall, resistance the rest",
            basis="half of it, from memory",
            example="50 %",
            shown_unit="%",
        ),
        Hours("on", "when it runs; always if not given", inverse="off"),
        Choice("burns", tuple(HEATING_VALUES), "its fuel", required=True),
        Parameter(
            "tank",
            "volume",
            "what its tank or cartridge holds: litres of liquid, or of hydrogen as a gas at 0 degC "
            "and 1013 hPa",
            required=True,
            low=0.0,
            low_allowed=False,
            high=100.0,
            bound_reason="tanks hold up to 100 000 litres",
            example="5 L",
            shown_unit="L",
        ),
        FILLED,
        Parameter(
            "efficiency",
            "share",
            "share of the fuel's lower heating value that it gives at its rated current; 22 % with "
            "methanol, 25 % with propane, 45 % with hydrogen if not given (from memory)",
            low=0.02,
            high=0.8,
            bound_reason="fuel cells turn between 2 and 80 % into power",
            basis="by the fuel, from memory",
            example="22 %",
            shown_unit="%",
        ),
        Parameter(
            "own_use",
            "power",
            "what its pumps, fans and electronics use while it runs, from its fuel",
            default=3.0,
            low=0.0,
            high=1000.0,
            bound_reason="pumps and fans use no more than 1 kW",
            basis="2 to 5 W for cells of 50 W, from memory",
            example="3 W",
            shown_unit="W",
        ),
    )
    terminals = (Terminal("line", "its leads", main=True),)
    inner = ("stack",)
    derived = ("ohm", "slope", "exchange", "steepest", "tank_per_amp", "tank_per_second")
    drives = ("runs",)
    pushes = "open_voltage"
    states = (FUEL, DRY)
    suspects = (ran_out("fuel cell"),)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """The curve through its two points; fuel by the current, as Faraday's law has it."""
        volts, top, most = float(p["voltage"]), float(p["open_voltage"]), float(p["current"])
        if top < 1.05 * volts:
            raise ParameterProblem(
                "open_voltage",
                f"{top:.4g} V with nothing connected is not above {volts:.4g} V at its current",
                "it is 20 to 60 % higher",
            )
        slope = TAFEL_V * top / CELL_V
        early, late = float(p["early"]) * (top - volts), (1.0 - float(p["early"])) * (top - volts)
        # Without an early fall the slope stands for a straight line as well as any.
        exchange = most / math.expm1(max(early, 1e-3 * slope) / slope)
        share = given(p, "efficiency")
        share = EFFICIENCIES[p["burns"]] if share is None else share
        held = HEATING_VALUES[p["burns"]] * share * float(p["tank"])
        return {
            "ohm": late / most,
            "slope": slope,
            "exchange": exchange,
            "steepest": STEEPEST + math.log1p(most / exchange),
            "tank_per_amp": volts / held,
            "tank_per_second": float(p["own_use"]) / held,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`runs`: share of each step for which it runs."""
        return {"runs": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into its leads and into the stack [A]; a diode lets none back."""
        given_amps = between((v.stack - v.line) / p.ohm, 0.0, p.current)
        stack = BLEED_S * v.stack + given_amps - stack_amps(v, x, d, p)
        return BLEED_S * v.line - given_amps, stack

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of `fuel`; set and clear of `dry`."""
        empties = p.tank_per_amp * stack_amps(v, x, d, p) + p.tank_per_second * d.runs
        return -empties, x.fuel <= 0.0, x.fuel > 0.0
