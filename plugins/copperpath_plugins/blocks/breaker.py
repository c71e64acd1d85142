"""A circuit breaker: it opens by warmth, and only a hand closes it again."""

from __future__ import annotations

from typing import Any

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

CARRIES = 1.1
"""Times its rating that it carries for good: from memory (makers hold 100 % and open at 135 %)."""

COOLS_S = 60.0
"""How long its bimetal takes to cool down: from memory."""

CONTACT_DROP_V = 0.06
"""Its resistance times its rating where none is given, beside `TERMINALS_OHM`: from memory."""

TERMINALS_OHM = 0.0005
"""Resistance of its two terminals: from memory."""


@elementwise
def through_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current from line to load [A]; none at all while open."""
    return where(has_opened(x.opened, x.warmth), 0.0, (v.line - v.load) / p.ohm)


class Breaker(Model):
    """Warmth grows with the square of what the current is above 1.1 times the rating.

    It opens at full warmth, as a `fuse` does. It stays open to the end of the run, unless
    `closed_after` says how long it takes until somebody has come to close it.
    """

    interface = 1
    name = "breaker"
    kind = "block"
    summary = "a circuit breaker that opens under overload and is closed again by hand"
    leaves_out = (
        "a magnetic part that opens within milliseconds; a short circuit's first second, as it "
        "opens at the end of a step; what a hot or cold place does to its rating; the arc, and "
        "what it cannot break; a hand that opens it as a switch (use `switch`)"
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
            bound_reason="breakers here are rated up to 500 A",
            example="30 A",
            shown_unit="A",
        ),
        Parameter(
            "resistance",
            "resistance",
            "its resistance with its terminals; if not given, 60 mV at its rating and 0.5 mohm "
            "beside: 2.5 mohm at 30 A (from memory)",
            low=1e-5,
            high=10.0,
            bound_reason="a breaker has between 10 µohm and 10 ohm",
            basis="60 mV at its rating and 0.5 mohm beside, from memory",
            example="2.5 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "opens_at_double",
            "time",
            "how long it lasts at twice its rating",
            default=20.0,
            low=0.05,
            high=600.0,
            bound_reason="breakers open between 50 ms and 10 min at twice their rating",
            basis="5 to 60 s for thermal breakers, from memory",
            example="20 s",
            shown_unit="s",
        ),
        Parameter(
            "closed_after",
            "time",
            "how long it takes until somebody has closed it again; never if not given",
            low=0.0,
            bound_reason="a delay is not negative",
            example="30 min",
            shown_unit="min",
        ),
    )
    terminals = (
        Terminal("line", "the side that is fed", main=True),
        Terminal("load", "what it protects"),
    )
    derived = ("ohm", "warmth_rate", "warmth_at_start", "attended", "hand_delay")
    states = (
        Accumulator("warmth", "warmth_at_start"),
        Latch("opened", clear_after="hand_delay"),
    )
    suspects = (
        Suspect(
            "a breaker that opened",
            "a larger breaker if the wire may carry that, or less at a time behind it",
            (("warmth_rate", 0.0),),
            latch="opened",
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its resistance, warmth a second for (I / rating - 1.1) = 1, and the hand."""
        ohm, hand = given(p, "resistance"), given(p, "closed_after")
        if ohm is None:
            ohm = CONTACT_DROP_V / float(p["rating"]) + TERMINALS_OHM
        return {
            "ohm": ohm,
            "warmth_rate": 1.0 / (float(p["opens_at_double"]) * (2.0 - CARRIES) ** 2),
            "warmth_at_start": 0.0,
            "attended": 0.0 if hand is None else 1.0,
            "hand_delay": 0.0 if hand is None else hand,
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into line and load [A]."""
        through = through_amps(v, x, p)
        return through, -through

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of warmth, then set and clear of `opened`: only a hand clears it."""
        rate = level_rate(i[0] / p.rating, CARRIES, p.warmth_rate, x.warmth, COOLS_S)
        return rate, x.warmth >= 1.0, (p.attended > 0.5) & (x.opened > 0.5)

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the breaker [W]."""
        return (v.line - v.load) * through_amps(v, x, p)
