"""A lamp of light-emitting diodes."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Choice,
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    ShareByHour,
    Surroundings,
    Terminal,
    Values,
    constant_current,
    constant_power,
)
from copperpath_plugins.loads.works import works_window


class LedLamp(Model):
    """Three kinds: a switching driver holds its power, a linear one its current, and a strip with
    resistors takes the more the further the voltage stands above that of its diodes."""

    interface = 1
    name = "led_lamp"
    kind = "load"
    summary = "an LED lamp by its driver, dimmed by a share"
    leaves_out = (
        "that light and power do not go together to the last percent; what a dimmed driver takes "
        "for itself; colour, warmth and age; filament lamps; radio noise of its driver"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes at full light, at the voltage `rated_at`",
            required=True,
            low=0.0,
            bound_reason="a lamp takes power, it does not give any",
            example="6 W",
            shown_unit="W",
        ),
        Choice(
            "driver",
            ("switching", "linear", "resistors"),
            "what holds its current: a switching driver takes the same power at any voltage, a "
            "linear one the same current; `resistors` for a plain strip of diodes in threes",
            default="switching",
            basis="lamps for 10 V and more above and below 12 V have one, from memory",
        ),
        Parameter(
            "rated_at",
            "voltage",
            "the voltage at which it takes `power`; it counts for `linear` and `resistors`",
            default=12.0,
            low=1.0,
            high=100.0,
            bound_reason="lamps here are made for between 1 V and 100 V",
            basis="12 V, as printed on most, from memory",
            example="12 V",
            shown_unit="V",
        ),
        Parameter(
            "diodes",
            "share",
            "the voltage of its diodes as a share of `rated_at`; it counts for `resistors`",
            default=0.75,
            low=0.0,
            high=0.95,
            bound_reason="something must be left for the resistors",
            basis="three white diodes of 3.0 V in a strip for 12 V, from memory",
            example="75 %",
            shown_unit="%",
        ),
        ShareByHour(
            "dimmed",
            "how much of full power it is dimmed to: `30 % from 22:00 to 06:00, otherwise 100 %`",
            default=1.0,
            basis="full light",
            example="40 %",
        ),
        Hours("on", "when it is on", inverse="off"),
        works_window(9.0, 16.0, "usual for lamps fed from a 12 V battery, from memory"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("watts", "amps", "siemens", "diode_volts")
    drives = ("wanted", "light")
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Watts, amps and siemens, two of which are zero, and the voltage of the diodes."""
        power, rated, driver = float(p["power"]), float(p["rated_at"]), p["driver"]
        if driver != "switching" and not float(p["works_low"]) <= rated <= float(p["works_high"]):
            raise ParameterProblem(
                "rated_at",
                f"takes its power at {rated:.4g} V, but works between "
                f"{float(p['works_low']):.4g} V and {float(p['works_high']):.4g} V",
                "give `works` for a lamp of another voltage",
            )
        diodes = rated * float(p["diodes"])
        return {
            "watts": power if driver == "switching" else 0.0,
            "amps": power / rated if driver == "linear" else 0.0,
            "siemens": power / rated / (rated - diodes) if driver == "resistors" else 0.0,
            "diode_volts": diodes,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on; `light`: how much of full power."""
        wanted = site.schedule(p["on"])
        return {"wanted": wanted, "light": wanted * site.schedule(p["dimmed"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        full = constant_power(v.line, p.watts, p.works_low)
        full = full + constant_current(v.line, p.amps, p.works_low)
        return (d.light * (full + p.siemens * np.maximum(v.line - p.diode_volts, 0.0)),)
