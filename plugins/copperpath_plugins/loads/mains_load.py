"""A load that is plugged into a generator's or an inverter's socket."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    FloatArray,
    Hours,
    Model,
    Parameter,
    Surroundings,
    Terminal,
    Values,
    Window,
    constant_power,
)


class MainsLoad(Model):
    """The same power at any mains voltage while it is on."""

    interface = 1
    name = "mains_load"
    kind = "load"
    summary = "a load at mains voltage with a fixed power while it is on"
    leaves_out = (
        "current out of phase and its peaks; the surge when it starts; what it draws while "
        "switched off; below the voltage it needs its power falls like that of a resistor"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes while on, whatever the voltage",
            required=True,
            low=0.0,
            bound_reason="a load takes power, it does not give any",
            example="60 W",
            shown_unit="W",
        ),
        Hours("on", "when it is on", inverse="off"),
        Window(
            "works",
            "voltage",
            "the mains voltages between which it works",
            default=(195.0, 253.0),
            low=50.0,
            high=300.0,
            bound_reason="mains voltages lie between 50 V and 300 V",
            basis="230 V with 15 % less or 10 % more, from memory",
            example="195 V .. 253 V",
            shown_unit="V",
        ),
    )
    terminals = (Terminal("line", "its plug", main=True, alternating=True),)
    drives = ("wanted",)
    powered = ("line", "works_low")
    demand = "wanted"
    on_surplus = "mains_load_on_surplus"

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on."""
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal, in phase [A]."""
        return (constant_power(v.line, d.wanted * p.power, p.works_low),)
