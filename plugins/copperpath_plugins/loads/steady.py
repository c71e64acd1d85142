"""A load that holds its power, its current or its resistance while it is on."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Elementwise,
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    Window,
    constant_current,
    constant_power,
    elementwise,
)
from copperpath_plugins.values import given

QUANTITIES = ("power", "current", "resistance")


@elementwise
def steady_amps(line: Elementwise, p: Elementwise) -> Elementwise:
    """Current while it is on [A]."""
    held = constant_power(line, p.watts, p.works_low)
    held = held + constant_current(line, p.amps, p.works_low)
    return held + line * p.siemens


class Steady(Model):
    """Exactly one of a power, a current or a resistance, by the hour."""

    interface = 1
    name = "steady"
    kind = "load"
    summary = "a load with a fixed power, current or resistance while it is on"
    leaves_out = (
        "the inrush when it is switched on; what it draws while switched off; below the voltage it "
        "needs a power falls like a resistor, a current in a straight line to nothing at half"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes while on, whatever the voltage (give this, `current` or `resistance`)",
            low=0.0,
            bound_reason="a load takes power, it does not give any",
            example="6 W",
            shown_unit="W",
        ),
        Parameter(
            "current",
            "current",
            "what it draws while on, whatever the voltage (give this, `power` or `resistance`)",
            low=0.0,
            bound_reason="a load takes current, it does not give any",
            example="0.4 A",
            shown_unit="A",
        ),
        Parameter(
            "resistance",
            "resistance",
            "its resistance while on (give this, `power` or `current`)",
            low=0.0,
            low_allowed=False,
            bound_reason="a resistance of zero would be a short circuit",
            example="24 ohm",
            shown_unit="ohm",
        ),
        Hours("on", "when it is on", inverse="off"),
        Window(
            "works",
            "voltage",
            "the voltages between which it works",
            default=(10.5, 15.0),
            low=0.5,
            high=100.0,
            bound_reason="supplies here are between 0.5 V and 100 V",
            basis="usual for equipment fed from a 12 V battery, from memory",
            example="10.5 V .. 15 V",
            shown_unit="V",
        ),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("watts", "amps", "siemens")
    drives = ("wanted",)
    powered = ("line", "works_low")
    demand = "wanted"
    on_surplus = "steady_on_surplus"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Watts, amps and siemens, two of which are zero."""
        values = {name: given(p, name) for name in QUANTITIES}
        present = [name for name, value in values.items() if value is not None]
        if not present:
            raise ParameterProblem(
                "power",
                "a steady load needs to know what it draws",
                "give one of `power 6 W`, `current 0.4 A` or `resistance 24 ohm`",
            )
        if len(present) > 1:
            raise ParameterProblem(
                present[1],
                f"`{present[0]}` already says what it draws; `{present[1]}` says it again",
                f"keep one of {' and '.join(f'`{name}`' for name in present)}",
            )
        resistance = values["resistance"]
        return {
            "watts": values["power"] or 0.0,
            "amps": values["current"] or 0.0,
            "siemens": 0.0 if resistance is None else 1.0 / resistance,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on."""
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        return (d.wanted * steady_amps(v.line, p),)
