"""A blade fuse that can open in the course of a run."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Elementwise,
    Latch,
    Model,
    Parameter,
    Suspect,
    Terminal,
    Values,
    elementwise,
    where,
)
from copperpath_plugins.blocks.inverse_time import has_opened, level_rate
from copperpath_plugins.values import given

RATINGS_A = (5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0)
COLD_DROPS_V = (0.090, 0.0825, 0.077, 0.072, 0.068, 0.0625, 0.060, 0.0576)
"""Cold resistance times rating of regular blade fuses: 1.44 mohm at 40 A from a maker's data, the
others from memory (2.4 mohm are published for a small blade of 25 A)."""

NEVER_OPENS = 1.1
"""Times its rating that a blade fuse carries for 100 hours and more: ISO 8820-3, makers' data."""

COOLS_S = 300.0
"""How long a fuse takes to forget that it was overloaded: from memory."""


@elementwise
def through_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current from line to load [A]; none at all once it has opened."""
    return where(has_opened(x.blown, x.damage), 0.0, (v.line - v.load) / p.ohm)


class Fuse(Model):
    """Damage grows with the square of what the current is above 1.1 times the rating.

    One second and a half at twice the rating is the middle (on a scale of ratios) of what the
    figures of ISO 8820-3 for regular blade fuses leave open, 0.57 s to 3.6 s: 0.75 to 600 s at
    135 %, 0.15 to 5 s at 200 %, 0.08 to 0.5 s at 350 %, at most 0.15 s at 600 % (makers' data
    that cite the standard). What heats it while keyed counts for its share of each step.
    """

    name = "fuse"
    kind = "block"
    interface = 1
    summary = "a blade fuse that opens when it carries too much for too long"
    leaves_out = (
        "its resistance growing with its warmth (about 1.7 times as much at its rating); what a "
        "hot or cold place does to its rating; the arc, and what it cannot break; a short "
        "circuit's first second, as it opens at the end of a step; ageing short of opening"
    )
    parameters = (
        Parameter(
            "rating",
            "current",
            "what is printed on it",
            required=True,
            low=0.0,
            low_allowed=False,
            high=500.0,
            bound_reason="fuses here are rated up to 500 A",
            example="10 A",
            shown_unit="A",
        ),
        Parameter(
            "resistance",
            "resistance",
            "its cold resistance; if not given, by its rating: 18 mohm at 5 A, 7.7 at 10 A, 3.4 at "
            "20 A, 2 at 30 A (from memory), 1.4 at 40 A (a maker's data)",
            low=1e-5,
            high=10.0,
            bound_reason="a fuse has between 10 µohm and 10 ohm",
            basis="by its rating: 18 mohm at 5 A, 7.7 at 10 A, 3.4 at 20 A, 2 at 30 A, from memory",
            example="3.4 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "holder",
            "resistance",
            "resistance of its holder, both contacts together",
            default=0.002,
            low=0.0,
            high=1.0,
            bound_reason="a holder has at most 1 ohm",
            basis="1 to 3 mohm is common practice, no source",
            example="2 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "opens_at_double",
            "time",
            "how long it lasts at twice its rating",
            default=1.43,
            low=0.05,
            high=600.0,
            bound_reason="fuses open between 50 ms and 10 min at twice their rating",
            basis="middle of what ISO 8820-3 leaves open for regular blade fuses, worked out from "
            "makers' data that cite it",
            example="1.4 s",
            shown_unit="s",
        ),
    )
    terminals = (
        Terminal("line", "the side that is fed", main=True),
        Terminal("load", "what it protects"),
    )
    derived = ("ohm", "damage_rate", "damage_at_start")
    states = (Accumulator("damage", "damage_at_start"), Latch("blown"))
    suspects = (
        Suspect(
            "a fuse that opened",
            "a larger fuse if the wire may carry that, or less at a time behind it",
            (("damage_rate", 0.0),),
            latch="blown",
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Resistance with its holder, and damage a second for (I / rating - 1.1) = 1."""
        rating, cold = float(p["rating"]), given(p, "resistance")
        if cold is None:
            cold = float(np.interp(rating, RATINGS_A, COLD_DROPS_V)) / rating
        return {
            "ohm": cold + float(p["holder"]),
            "damage_rate": 1.0 / (float(p["opens_at_double"]) * (2.0 - NEVER_OPENS) ** 2),
            "damage_at_start": 0.0,
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into line and load [A]."""
        through = through_amps(v, x, p)
        return through, -through

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of damage, then set and clear of `blown`, which never clears."""
        rate = level_rate(i[0] / p.rating, NEVER_OPENS, p.damage_rate, x.damage, COOLS_S)
        return rate, x.damage >= 1.0, x.damage < 0.0

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in fuse and holder [W]."""
        return (v.line - v.load) * through_amps(v, x, p)
