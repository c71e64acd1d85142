"""A generator turned by hand or pedals."""

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
)
from copperpath_plugins.sources.power_output import BLEED_S, power_amps


class HandCrank(Model):
    """A person's power times an efficiency, given at the voltage of what it feeds."""

    name = "hand_crank"
    kind = "source"
    interface = 1
    summary = "a generator that somebody turns by hand or pedals, in the hours that are given"
    leaves_out = (
        "tiring and pauses (write hours that people keep up), getting up to speed, a crank that "
        "is hard to turn when much is drawn; what its voltage regulator makes of the rest. "
        "Without `on` somebody turns it day and night"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what the person gives at the crank or the pedals for as long as the hours last",
            default=50.0,
            low=0.0,
            low_allowed=False,
            high=500.0,
            bound_reason="a person keeps up less than 500 W",
            basis="30 W by hand to 75 W on pedals can be kept up, from memory",
            example="50 W",
            shown_unit="W",
        ),
        Parameter(
            "efficiency",
            "share",
            "share of that power which comes out at the leads",
            default=0.6,
            low=0.05,
            high=0.95,
            bound_reason="gears, generator and regulator let between 5 and 95 % through",
            basis="50 to 70 % with gears, a small generator and a regulator, from memory",
            example="60 %",
            shown_unit="%",
        ),
        Parameter(
            "voltage",
            "voltage",
            "the voltage at which its regulator takes back the power",
            default=14.4,
            low=1.0,
            high=100.0,
            bound_reason="cranks here give between 1 V and 100 V",
            basis="the charging voltage of a 12 V battery, common practice, no source",
            example="14.4 V",
            shown_unit="V",
        ),
        Hours("on", "when somebody turns it", inverse="off"),
    )
    terminals = (Terminal("line", "its output", main=True),)
    derived = ("watts",)
    drives = ("runs",)
    pushes = "voltage"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """What comes out."""
        return {"watts": float(p["power"]) * float(p["efficiency"])}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`runs`: share of each step for which it is turned."""
        return {"runs": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into its line terminal [A]."""
        return (BLEED_S * v.line - power_amps(v.line, d.runs * p.watts, p.voltage),)
