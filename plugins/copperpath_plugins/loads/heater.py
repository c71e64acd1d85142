"""A heater with a thermostat."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Ambient,
    FloatArray,
    Hours,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    Window,
)


class Heater(Model):
    """A resistance that is switched on when it is cold and off when it is less so."""

    name = "heater"
    kind = "load"
    interface = 1
    summary = "a heater with a thermostat that follows the air"
    leaves_out = (
        "the warmth that it makes: nothing gets warmer by it, neither the battery nor the air at "
        "its thermostat"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes while it heats, at the voltage `rated_at`",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a heater takes power, it does not give any",
            example="20 W",
            shown_unit="W",
        ),
        Parameter(
            "rated_at",
            "voltage",
            "the voltage at which it takes that power",
            default=12.0,
            low=1.0,
            high=300.0,
            bound_reason="heaters here are made for between 1 V and 300 V",
            basis="12 V, as printed on most mats and pads, from memory",
            example="12 V",
            shown_unit="V",
        ),
        Parameter(
            "below",
            "temperature",
            "it switches on when its thermostat is colder than this",
            required=True,
            low=173.15,
            high=373.15,
            bound_reason="thermostats here switch between -100 degC and 100 degC",
            example="2 degC",
            shown_unit="degC",
        ),
        Parameter(
            "band",
            "temperature_difference",
            "how much warmer it must get before it switches off",
            default=3.0,
            low=0.0,
            high=50.0,
            bound_reason="thermostats switch off at most 50 K above where they switch on",
            basis="2 to 5 K for simple thermostats, from memory",
            example="3 K",
            shown_unit="K",
        ),
        Ambient("temperature", "temperature at its thermostat"),
        Hours("on", "the hours in which it may heat", inverse="off"),
        Window(
            "works",
            "voltage",
            "the voltages between which it works",
            default=(10.0, 15.0),
            low=0.5,
            high=300.0,
            bound_reason="supplies here are between 0.5 V and 300 V",
            basis="usual for 12 V equipment, from memory",
            example="10 V .. 15 V",
            shown_unit="V",
        ),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("siemens",)
    drives = ("around", "hours", "wanted")
    states = (Latch("heating"),)
    powered = ("line", "works_low")
    demand = "wanted"
    on_surplus = "heater_on_surplus"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its conductance."""
        if not float(p["works_low"]) <= float(p["rated_at"]) <= float(p["works_high"]):
            raise ParameterProblem(
                "rated_at",
                f"takes its power at {float(p['rated_at']):.4g} V, but works between "
                f"{float(p['works_low']):.4g} V and {float(p['works_high']):.4g} V",
                "give `works` for a heater of another voltage",
            )
        return {"siemens": float(p["power"]) / float(p["rated_at"]) ** 2}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`around`: temperature at the thermostat [K]; `hours`: share of each step in which it may
        heat; `wanted`: the same while it is cold enough to switch on."""
        around, hours = site.temperature(p["temperature"]), site.schedule(p["on"])
        return {"around": around, "hours": hours, "wanted": hours * (around < float(p["below"]))}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        return (x.heating * d.hours * p.siemens * v.line,)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `heating`."""
        return d.wanted > 0.0, (d.around > p.below + p.band) | (d.hours <= 0.0)
