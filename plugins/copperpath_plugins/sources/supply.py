"""A supply that holds a voltage by the hour: a bench supply, or an alternator while it turns."""

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
    between,
)
from copperpath_plugins.sources.power_output import BLEED_S
from copperpath_plugins.values import given

DROOP_V = 0.2
"""How far its voltage stands under that at no load when it gives its limit: from memory."""


class Supply(Model):
    """Its voltage behind a small droop, up to a limit; it takes back a milliampere at most."""

    name = "supply"
    kind = "source"
    interface = 1
    summary = "a source that holds a voltage by the hour: a bench supply, a vehicle's alternator"
    leaves_out = (
        "where its own power comes from, and what that costs; an alternator's limit changing with "
        "its speed and warmth; more than a milliampere that some draw when they are off"
    )
    parameters = (
        Parameter(
            "voltage",
            "voltage",
            "the voltage it holds at no load",
            required=True,
            low=0.5,
            high=100.0,
            bound_reason="supplies here are between 0.5 V and 100 V",
            example="13.8 V",
            shown_unit="V",
        ),
        Parameter(
            "limit",
            "current",
            "the most it gives",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could give nothing",
            example="30 A",
            shown_unit="A",
        ),
        Parameter(
            "droop",
            "resistance",
            "how far its voltage falls for each ampere; 0.2 V at its limit if not given (from "
            "memory)",
            low=0.0001,
            high=1.0,
            bound_reason="a supply sags by between 0.1 mV and 1 V for each ampere",
            basis="0.2 V at its limit, from memory",
            example="10 mohm",
            shown_unit="mohm",
        ),
        Hours("on", "when it is on", inverse="off"),
    )
    terminals = (Terminal("line", "its output", main=True),)
    derived = ("droop_ohm",)
    drives = ("runs",)
    pushes = "voltage"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its droop."""
        droop = given(p, "droop")
        return {"droop_ohm": DROOP_V / float(p["limit"]) if droop is None else droop}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`runs`: share of each step for which it is on."""
        return {"runs": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into its line terminal [A]."""
        amps = d.runs * between((p.voltage - v.line) / p.droop_ohm, 0.0, p.limit)
        return (BLEED_S * v.line - amps,)
