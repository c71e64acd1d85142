"""A low-voltage disconnect: it cuts loads off before the battery's own board does."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Elementwise,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Suspect,
    Terminal,
    Values,
    constant_current,
    elementwise,
    where,
)
from copperpath_plugins.values import given

FADE_SHARE = 0.5
"""Share of the `off` voltage below which its electronics begin to go without current: a choice
that lets its own draw end at zero volts without a jump."""


@elementwise
def is_open(x: Elementwise) -> Elementwise:
    """True while no current passes."""
    return (x.open > 0.5) | (x.open_keyed > 0.5)


@elementwise
def contact_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current from line to load [A]; none at all while open."""
    return where(is_open(x), 0.0, (v.line - v.load) / p.contact)


@elementwise
def own_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """What it draws for itself at the line [A]."""
    amps = where(is_open(x), p.amps_open, p.draw)
    return constant_current(v.line, amps, p.fades_below)


class Disconnect(Model):
    """Contacts between line and load; a timer below `off` opens, one above `on` closes.

    A timer starts anew whenever the voltage recovers, so what counts is the voltage that lasts as
    long as the delay. Overs shorter than the delay only count through their mean; one as long as
    the delay opens it at the keyed voltage. `longest_over` tells which of the two it is. All
    radios keyed at once for a moment never open a disconnect that waits for half a minute.
    """

    name = "disconnect"
    kind = "block"
    interface = 1
    summary = "a low-voltage disconnect: opens at a low voltage, closes again at a higher one"
    leaves_out = (
        "the current that one made of transistors lets pass backwards while open; a least voltage "
        "at which a relay holds; a load that sags the voltage for less than a step and longer than "
        "the delay counts by its mean; a delay is rounded up to whole steps"
    )
    parameters = (
        Parameter(
            "off",
            "voltage",
            "line voltage below which it opens",
            default=11.5,
            low=1.0,
            high=100.0,
            bound_reason="batteries here have between 1 V and 100 V",
            basis="11.5 V off, 12.5 V on is common practice for 12 V batteries, no source",
            example="11.5 V",
            shown_unit="V",
        ),
        Parameter(
            "on",
            "voltage",
            "line voltage above which it closes again",
            default=12.5,
            low=1.0,
            high=120.0,
            bound_reason="batteries here are charged to 100 V at the most",
            basis="11.5 V off, 12.5 V on is common practice for 12 V batteries, no source",
            example="12.5 V",
            shown_unit="V",
        ),
        Parameter(
            "off_delay",
            "time",
            "how long the voltage must stay below `off` before it opens",
            default=30.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="10 s and more is common practice, no source",
            example="30 s",
            shown_unit="s",
        ),
        Parameter(
            "on_delay",
            "time",
            "how long the voltage must stay above `on` before it closes",
            default=60.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="10 s and more is common practice, no source",
            example="60 s",
            shown_unit="s",
        ),
        Parameter(
            "longest_over",
            "time",
            "how long the radios behind it are keyed at a stretch; if that is as long as "
            "`off_delay` it opens at the voltage with every radio keyed, else at the mean voltage",
            default=15.0,
            low=0.0,
            bound_reason="a time is not negative",
            basis="data slots of 15 s; in voice the current rises and falls with speech; from "
            "memory",
            example="15 s",
            shown_unit="s",
        ),
        Parameter(
            "draw",
            "current",
            "what it draws itself while closed (a relay coil 50 to 150 mA)",
            default=0.010,
            low=0.0,
            bound_reason="a disconnect takes current, it does not give any",
            basis="electronics with transistors or a latching relay, from memory",
            example="10 mA",
            shown_unit="mA",
        ),
        Parameter(
            "draw_open",
            "current",
            "what it draws itself while open; the same as while closed if not given",
            low=0.0,
            bound_reason="a disconnect takes current, it does not give any",
            basis="the same as while closed",
            example="5 mA",
            shown_unit="mA",
        ),
        Parameter(
            "contact",
            "resistance",
            "resistance from line to load while closed, both poles together",
            default=0.002,
            low=1e-5,
            high=1.0,
            bound_reason="a contact has between 10 µohm and 1 ohm",
            basis="relay or transistors with two screw terminals, from memory",
            example="2 mohm",
            shown_unit="mohm",
        ),
    )
    terminals = (
        Terminal("line", "the battery side, whose voltage it watches", main=True),
        Terminal("load", "the loads that it cuts off"),
    )
    derived = ("amps_open", "fades_below", "keyed_opens")
    states = (
        Latch("open", set_after="off_delay", clear_after="on_delay"),
        Latch("open_keyed", set_after="off_delay", clear_after="on_delay", judged="worst"),
    )
    suspects = (
        Suspect(
            "the disconnect opens while radios are keyed",
            "a longer `off_delay`, or a lower `off`",
            (("keyed_opens", 0.0),),
            latch="open_keyed",
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its draw while open, where the draw ends, and whether a keyed radio can open it."""
        off, on = float(p["off"]), float(p["on"])
        if on <= off:
            raise ParameterProblem(
                "on",
                f"closes above {on:.4g} V, which is not above the {off:.4g} V below which it opens",
                f"it would open and close without end; {off + 1.0:.4g} V is usual here",
            )
        open_draw = given(p, "draw_open")
        over = float(p["longest_over"])
        return {
            "amps_open": float(p["draw"]) if open_draw is None else open_draw,
            "fades_below": FADE_SHARE * off,
            "keyed_opens": float(over > 0.0 and over >= float(p["off_delay"])),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into line and load [A]."""
        through = contact_amps(v, x, p)
        return through + own_amps(v, x, p), -through

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear by the mean voltage, then by that with every radio keyed."""
        low, high = v.line < p.off, v.line > p.on
        return low, high, low & (p.keyed_opens > 0.5), high

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the contacts and its own draw [W]."""
        return (v.line - v.load) * contact_amps(v, x, p) + v.line * own_amps(v, x, p)
