"""A laptop or tablet with its own battery."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Accumulator,
    FloatArray,
    Hours,
    Model,
    Parameter,
    Surroundings,
    Terminal,
    Values,
    constant_power,
)
from copperpath_plugins.loads.own_battery import (
    CHARGING_LEAVES_OUT,
    battery_parameters,
    charged_watts,
    charging_watts,
)
from copperpath_plugins.loads.works import works_window


class Laptop(Model):
    """It works from its supply and charges its battery beside that; without supply it works on
    from its battery, and counts as powered until that is empty."""

    interface = 1
    name = "laptop"
    kind = "load"
    summary = "a laptop or tablet with its own battery, which carries it while there is no supply"
    leaves_out = (
        "what it draws while it sleeps; a supply too weak for working and charging together, "
        "where a real one charges more slowly; " + CHARGING_LEAVES_OUT
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes while it works, without charging",
            required=True,
            low=0.0,
            high=500.0,
            bound_reason="computers here take no more than 500 W, and give none",
            example="30 W",
            shown_unit="W",
        ),
        *battery_parameters(
            "the energy that its own battery holds",
            "50 Wh",
            40.0,
            "20 to 60 W beside the work is common practice, no source",
        ),
        Hours("on", "when it works", inverse="off"),
        Hours(
            "supplied",
            "when its supply is plugged in: `unplugged 22:00 to 06:00`",
            inverse="unplugged",
        ),
        Hours(
            "charging",
            "when it may charge while supplied: `not_charging 22:00 to 06:00`",
            inverse="not_charging",
        ),
        works_window(11.0, 16.0, "a supply for a car's socket, losses counted in, from memory"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    drives = ("wanted", "plugged", "may_charge")
    states = (Accumulator("own", "charge"),)
    powered = ("line", "works_low")
    demand = "wanted"
    bridged = ("own", "plugged")

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """Shares of each step in which it works, is plugged in, and may charge."""
        return {
            "wanted": site.schedule(p["on"]),
            "plugged": site.schedule(p["supplied"]),
            "may_charge": site.schedule(p["charging"]),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        watts = d.plugged * (d.wanted * p.power + d.may_charge * charging_watts(x.own, p))
        return (constant_power(v.line, watts, p.works_low),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of its own charge [1/s]: what is taken beyond the work, or lacks for it."""
        return (charged_watts(v.line * i[0] - d.wanted * p.power, p) / p.battery,)
