"""A network node that is fed over its data cable."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Choice,
    FloatArray,
    Hours,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    constant_power,
)
from copperpath_plugins.loads.works import works_window

GRANTED = {"type_1": (12.95, 37.0, 57.0), "type_2": (25.5, 42.5, 57.0)}
"""Most power at the device [W] and the voltages there [V] between which it must work: IEEE 802.3
clause 33, from memory. The source gives 15.4 W at 44 V or 30 W at 50 V and the most, into a loop
of 20 ohm or 12.5 ohm."""


class NetworkNode(Model):
    """The same power at any voltage, more while it starts.

    Its data cable is a cable of the station: one for each pair of pairs, `wire 24 AWG; solid`.
    """

    interface = 1
    name = "network_node"
    kind = "load"
    summary = "a router or data link fed over its data cable, with the peak while it starts"
    leaves_out = (
        "the talk by which a source grants power (what it grants is only held against what is "
        "taken); the rectifier at its inlet; its start at the beginning of the run (it runs by "
        "then); a start shorter than a step lasts for a step; what traffic adds to its power"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "what it takes while it runs, at its inlet",
            required=True,
            low=0.0,
            high=100.0,
            bound_reason="what a data cable feeds takes no more than 100 W, and gives none",
            example="6 W",
            shown_unit="W",
        ),
        Parameter(
            "start_factor",
            "number",
            "how much more it takes while it starts, as a factor",
            default=1.5,
            low=1.0,
            high=10.0,
            bound_reason="while it starts it takes as much as running or more, up to ten times",
            basis="half as much again is common practice, no source",
            example="1.5",
        ),
        Parameter(
            "start_time",
            "time",
            "how long it takes to start once there is power",
            default=60.0,
            low=0.0,
            high=3600.0,
            bound_reason="starting lasts between nothing and an hour",
            basis="half a minute to two minutes, from memory",
            example="60 s",
            shown_unit="s",
        ),
        Choice(
            "feed",
            ("passive", *GRANTED),
            "how it is fed: `passive` with a fixed voltage, or as a device that asks its source "
            "(IEEE 802.3 clause 33): `type_1` up to 12.95 W, `type_2` up to 25.5 W at the device",
            default="passive",
            basis="a fixed voltage injected, common practice, no source",
        ),
        Hours("on", "when it is on", inverse="off"),
        works_window(9.0, 30.0, "nodes for 12 V and 24 V, from memory"),
    )
    terminals = (Terminal("line", "its inlet", main=True),)
    drives = ("wanted",)
    states = (Latch("running", set_after="start_time", initial=1.0),)
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Nothing; what a source grants must be enough."""
        if p["feed"] in GRANTED:
            watts, low, high = GRANTED[p["feed"]]
            most = float(p["power"]) * float(p["start_factor"])
            if most > watts * (1.0 + 1e-9):
                raise ParameterProblem(
                    "feed",
                    f"takes {most:.4g} W while it starts, but `{p['feed']}` grants {watts:.4g} W "
                    "at the device",
                    "take a higher type, or `passive` where the source does not ask",
                )
            if float(p["works_low"]) > low or float(p["works_high"]) < high:
                raise ParameterProblem(
                    "works",
                    f"a device of `{p['feed']}` must work from {low:.4g} V to {high:.4g} V",
                    f"give `works {low:.4g} V .. {high:.4g} V`, or `feed passive`",
                )
        return {}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on."""
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        factor = p.start_factor + x.running * (1.0 - p.start_factor)
        return (constant_power(v.line, d.wanted * p.power * factor, p.works_low),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `running`."""
        on = (v.line >= p.works_low) & (d.wanted > 0.0)
        return on, (v.line < p.works_low) | (d.wanted <= 0.0)
