"""A transistor that is switched so as to act as a diode."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Elementwise,
    Model,
    Parameter,
    Terminal,
    Values,
    constant_current,
    elementwise,
)
from copperpath_plugins.blocks.one_way import line_begins, one_way_amps

BEND_SHARE = 0.5
"""Share of the held drop over which its current begins: a choice that keeps the curve smooth."""

RUNS_V = 3.0
"""Voltage at its input below which its electronics fade out: from memory."""


@elementwise
def own_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """What its electronics draw at the input [A]."""
    return constant_current(v.in_, p.draw, RUNS_V)


class IdealDiode(Model):
    """A small drop that is held at small currents, a resistance above, nothing backwards."""

    name = "ideal_diode"
    kind = "block"
    one_way = True
    interface = 1
    summary = "a transistor switched as a diode: current in one direction at a drop of millivolts"
    leaves_out = (
        "the microseconds it takes to open when the current turns round; its resistance growing "
        "with warmth; the drop of its transistor's own diode below about 3 V, where its "
        "electronics no longer work"
    )
    parameters = (
        Parameter(
            "held_drop",
            "voltage",
            "the drop that it holds while the current is small",
            default=0.010,
            low=0.001,
            high=1.0,
            bound_reason="ideal diodes hold between 1 mV and 1 V",
            basis="5 to 20 mV is common practice, no source",
            example="10 mV",
            shown_unit="mV",
        ),
        Parameter(
            "resistance",
            "resistance",
            "its resistance while fully on",
            default=0.002,
            low=1e-5,
            high=1.0,
            bound_reason="a transistor that is on has between 10 µohm and 1 ohm",
            basis="one transistor with its terminals for 10 to 30 A, from memory",
            example="2 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "draw",
            "current",
            "what its electronics draw at the input",
            default=0.001,
            low=0.0,
            bound_reason="its electronics take current, they do not give any",
            basis="1 mA is common practice, no source",
            example="1 mA",
            shown_unit="mA",
        ),
    )
    terminals = (
        Terminal("in", "where current enters", main=True),
        Terminal("out", "where it leaves"),
    )
    derived = ("knee", "bend")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Where the current begins, so that the straight part starts from the held drop."""
        bend = BEND_SHARE * float(p["held_drop"])
        return {"knee": float(p["held_drop"]) - line_begins(0.0, bend), "bend": bend}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into both ends [A]."""
        amps = one_way_amps(v.in_ - v.out, p.knee, p.bend, p.resistance)
        return amps + own_amps(v, p), -amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Drop times current, and its own draw [W]."""
        passed = one_way_amps(v.in_ - v.out, p.knee, p.bend, p.resistance)
        return (v.in_ - v.out) * passed + v.in_ * own_amps(v, p)
