"""A battery isolator: one source to two stores, one way only."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Choice,
    Elementwise,
    Model,
    Parameter,
    ParameterProblem,
    Terminal,
    Values,
    constant_current,
    elementwise,
)
from copperpath_plugins.blocks.one_way import line_begins, one_way_amps
from copperpath_plugins.values import given

BEND_SHARE = 0.5
"""Share of the small drop over which the current begins: a choice that keeps the curve smooth."""

RUNS_V = 3.0
"""Voltage at its input below which its electronics fade out: from memory."""

DROPS_V = {"diodes": (0.30, 0.45), "transistors": (0.010, 0.050)}
"""Volts lost at small and at rated current: Schottky diodes 0.35 to 0.5 V and 5 to 20 mV held by
transistors are common practice, no source; 50 mV at the rating from memory."""

DRAW_A = {"diodes": 0.0, "transistors": 0.002}
"""1 mA for each transistor switched as a diode is common practice, no source."""


@elementwise
def passed_amps(drop: Elementwise, p: Elementwise) -> Elementwise:
    """Current through one of its two ways [A] at a forward drop [V]; none backwards."""
    return one_way_amps(drop, p.knee, p.bend, p.ohm)


@elementwise
def own_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """What its electronics draw at the input [A]."""
    return constant_current(v.in_, p.own_draw, RUNS_V)


class Isolator(Model):
    """Two one-way curves from one input: a drop at small current, and a straight line to another
    at the rating."""

    name = "isolator"
    kind = "block"
    one_way = True
    interface = 1
    summary = "a battery isolator: one charging source to two batteries that stay apart"
    leaves_out = (
        "drops falling with warmth; the milliamperes that hot diodes let pass backwards; a relay "
        "that joins the batteries both ways while one is charged; a charger's sense wire that "
        "makes up for the drop (raise its voltage by the drop)"
    )
    parameters = (
        Choice(
            "kind",
            tuple(DROPS_V),
            "Schottky diodes, or transistors switched as diodes",
            default="transistors",
            basis="what is usual in newer ones, from memory",
        ),
        Parameter(
            "rating",
            "current",
            "the current of one way at which `drop` holds",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1000.0,
            bound_reason="isolators here are rated up to 1000 A",
            example="70 A",
            shown_unit="A",
        ),
        Parameter(
            "drop",
            "voltage",
            "what is lost over one way at its rating; if not given, 0.45 V over diodes and 50 mV "
            "over transistors",
            low=0.002,
            high=3.0,
            bound_reason="isolators lose between 2 mV and 3 V",
            basis="0.45 V over diodes (common practice, no source), 50 mV over transistors (from "
            "memory)",
            example="0.05 V",
            shown_unit="V",
        ),
        Parameter(
            "drop_small",
            "voltage",
            "what is lost over one way at a small current; if not given, two thirds of `drop` "
            "over diodes and a fifth over transistors",
            low=0.001,
            high=3.0,
            bound_reason="isolators lose between 1 mV and 3 V",
            basis="two thirds of the rated drop over diodes, a fifth over transistors (5 to 20 mV "
            "is common practice), from memory",
            example="0.01 V",
            shown_unit="V",
        ),
        Parameter(
            "draw",
            "current",
            "what its electronics draw at the input; if not given, nothing for diodes and 2 mA "
            "for transistors",
            low=0.0,
            bound_reason="its electronics take current, they do not give any",
            basis="1 mA a transistor is common practice, no source",
            example="2 mA",
            shown_unit="mA",
        ),
    )
    terminals = (
        Terminal("in", "the charging source", main=True),
        Terminal("first", "the one battery"),
        Terminal("second", "the other battery"),
    )
    derived = ("knee", "bend", "ohm", "own_draw")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Where its curve begins and how steep it is."""
        drop, small, draw = given(p, "drop"), given(p, "drop_small"), given(p, "draw")
        usual_small, usual = DROPS_V[p["kind"]]
        drop = usual if drop is None else drop
        small = drop * usual_small / usual if small is None else small
        if small >= drop:
            raise ParameterProblem(
                "drop_small",
                f"loses {small:.4g} V at a small current, which is not below the {drop:.4g} V at "
                "its rating",
                f"about {drop * usual_small / usual:.2g} V would be usual",
            )
        bend = min(BEND_SHARE * small, drop - small)
        return {
            "knee": small - line_begins(0.0, bend),
            "bend": bend,
            "ohm": (drop - small) / float(p["rating"]),
            "own_draw": DRAW_A[p["kind"]] if draw is None else draw,
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the input and both outputs [A]."""
        first, second = passed_amps(v.in_ - v.first, p), passed_amps(v.in_ - v.second, p)
        return first + second + own_amps(v, p), -first, -second

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Drops times currents, and its own draw [W]."""
        first = (v.in_ - v.first) * passed_amps(v.in_ - v.first, p)
        second = (v.in_ - v.second) * passed_amps(v.in_ - v.second, p)
        return first + second + v.in_ * own_amps(v, p)
