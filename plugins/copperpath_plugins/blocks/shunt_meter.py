"""A volt and ampere meter with a shunt in the line."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Elementwise,
    Model,
    Parameter,
    Terminal,
    constant_current,
    elementwise,
)

RUNS_V = 5.0
"""Voltage at its line below which its electronics fade out: from memory."""


@elementwise
def own_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """What its electronics and display draw at the line [A]."""
    return constant_current(v.line, p.draw, RUNS_V)


class ShuntMeter(Model):
    """The shunt is a small resistance; what the meter draws passes beside it."""

    interface = 1
    name = "shunt_meter"
    kind = "block"
    summary = "a volt and ampere meter with a shunt in the line, and its own draw"
    leaves_out = (
        "what it shows: its error of 1 to 2 % and one digit, and over how long it takes a mean; "
        "the draw of its backlight by the hour; a bare display without a shunt (write that as a "
        "steady load)"
    )
    parameters = (
        Parameter(
            "rating",
            "current",
            "the most current it may carry; it is told here and not watched",
            low=0.0,
            low_allowed=False,
            bound_reason="a rating is a current above zero",
            example="50 A",
            shown_unit="A",
        ),
        Parameter(
            "shunt",
            "resistance",
            "resistance of its shunt with both terminals",
            default=0.0015,
            low=1e-6,
            high=1.0,
            bound_reason="a shunt has between 1 µohm and 1 ohm",
            basis="75 mV at 50 A, a usual shunt, from memory",
            example="1.5 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "draw",
            "current",
            "what it draws for itself at the line",
            default=0.010,
            low=0.0,
            bound_reason="a meter takes current, it does not give any",
            basis="5 to 15 mA is common practice, no source",
            example="10 mA",
            shown_unit="mA",
        ),
    )
    terminals = (
        Terminal("line", "the side that is fed, from which it draws", main=True),
        Terminal("load", "what it measures the current of"),
    )

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into line and load [A]."""
        through = (v.line - v.load) / p.shunt
        return through + own_amps(v, p), -through

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the shunt and its own draw [W]."""
        return (v.line - v.load) ** 2 / p.shunt + v.line * own_amps(v, p)
