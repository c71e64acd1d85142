"""A switch that somebody, or a clock, closes and opens by the hour."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Elementwise,
    FloatArray,
    Hours,
    Model,
    Parameter,
    Surroundings,
    Terminal,
    Values,
    elementwise,
    where,
)

MOST_OF_STEP = 0.5
"""Share of a step from which on it counts as closed in all of it."""


@elementwise
def through_amps(v: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """Current from line to load [A]; none at all while open."""
    return where(d.closed > MOST_OF_STEP, (v.line - v.load) / p.contact, 0.0)


class Switch(Model):
    """A small resistance while it is closed, nothing while it is open."""

    interface = 1
    name = "switch"
    kind = "block"
    summary = "a switch that is closed and opened by the hour"
    leaves_out = (
        "the arc, and what it cannot break; that loads behind it need the same hours: one that is "
        "wanted while the switch is open counts as going without; the coil of a relay (write it "
        "as a steady load with the same hours)"
    )
    parameters = (
        Hours("on", "when it is closed", inverse="off"),
        Parameter(
            "rating",
            "current",
            "the most current it may carry; it is told here and not watched",
            low=0.0,
            low_allowed=False,
            bound_reason="a rating is a current above zero",
            example="30 A",
            shown_unit="A",
        ),
        Parameter(
            "contact",
            "resistance",
            "its resistance while closed",
            default=0.002,
            low=1e-5,
            high=1.0,
            bound_reason="a contact has between 10 µohm and 1 ohm",
            basis="two screw terminals and a contact in good order, from memory",
            example="2 mohm",
            shown_unit="mohm",
        ),
    )
    terminals = (
        Terminal("line", "the side that is fed", main=True),
        Terminal("load", "what it switches"),
    )
    drives = ("closed",)

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`closed`: share of each step for which it is closed."""
        return {"closed": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into line and load [A]."""
        through = through_amps(v, d, p)
        return through, -through

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the contact [W]."""
        return (v.line - v.load) * through_amps(v, d, p)
