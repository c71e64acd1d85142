"""An inverter: mains from a battery."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Suspect,
    Terminal,
    Values,
    between,
    constant_power,
    elementwise,
)
from copperpath_plugins.values import given

FADE_V = 0.5
"""Volts below its cut-off over which its output fades to nothing until the cut-off acts: a choice
that keeps the curve continuous."""

SAG_SHARE = 0.02
"""How far its output falls at its rated power, as a share: from memory."""

IDLE_SHARE = 0.01
"""Idle power as a share of the rated one where none is given: from memory."""


@elementwise
def output_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current given at the mains side [A]."""
    fade = between((v.battery - p.cutoff + FADE_V) / FADE_V, 0.0, 1.0)
    held = between((p.mains - v.mains) / p.output_ohm, 0.0, p.most_amps)
    return (1.0 - x.off) * fade * held


@elementwise
def loss_watts(watts: Elementwise, p: Elementwise) -> Elementwise:
    """Loss beside the idle power at a given output [W]."""
    return watts * (p.loss_share + p.loss_growth * watts / p.rating)


class Inverter(Model):
    """Mains voltage held with a small sag; losses grow with the output and with its square.

    Its cut-off acts within seconds, sooner than a radio is unkeyed, so it is judged with every
    radio keyed.
    """

    name = "inverter"
    kind = "converter"
    interface = 1
    summary = "mains from a battery, with its idle power and its low-voltage cut-off"
    leaves_out = (
        "current out of phase, its peaks, and surges that it can give for seconds; that it is "
        "switched off by an overload (here its voltage falls); a mode in which "
        "it sleeps until something is plugged in; what heat does to its rating; how its "
        "efficiency changes with the battery's voltage; radio noise"
    )
    parameters = (
        Parameter(
            "rating",
            "power",
            "the most it gives for hours",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a rating of zero it could give nothing",
            example="300 W",
            shown_unit="W",
        ),
        Parameter(
            "mains",
            "voltage",
            "the mains voltage it gives at no load",
            default=230.0,
            low=50.0,
            high=300.0,
            bound_reason="mains voltages lie between 50 V and 300 V",
            basis="230 V, as in most of the world",
            example="230 V",
            shown_unit="V",
        ),
        Parameter(
            "efficiency_half",
            "share",
            "efficiency at half its rating, idle power included",
            default=0.91,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.88 to 0.93, from memory",
            example="91 %",
            shown_unit="%",
        ),
        Parameter(
            "efficiency_full",
            "share",
            "efficiency at its rating, idle power included",
            default=0.87,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.84 to 0.9, from memory",
            example="87 %",
            shown_unit="%",
        ),
        Parameter(
            "idle",
            "power",
            "what it takes from the battery with nothing plugged in; a hundredth of its rating if "
            "not given (from memory)",
            low=0.0,
            bound_reason="a converter takes power, it does not give any",
            basis="a hundredth of its rating, from memory",
            example="4 W",
            shown_unit="W",
        ),
        Parameter(
            "cutoff",
            "voltage",
            "battery voltage below which it switches off",
            default=10.5,
            low=1.0,
            high=100.0,
            bound_reason="batteries here have between 1 V and 100 V",
            basis="10.5 V for 12 V is common practice, no source",
            example="10.5 V",
            shown_unit="V",
        ),
        Parameter(
            "restart",
            "voltage",
            "battery voltage above which it switches on again",
            default=12.5,
            low=1.0,
            high=100.0,
            bound_reason="batteries here have between 1 V and 100 V",
            basis="12.5 V for 12 V, from memory",
            example="12.5 V",
            shown_unit="V",
        ),
        Parameter(
            "cutoff_delay",
            "time",
            "how long the voltage must stay below `cutoff`",
            default=3.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="seconds, from memory",
            example="3 s",
            shown_unit="s",
        ),
        Parameter(
            "restart_delay",
            "time",
            "how long the voltage must stay above `restart`",
            default=10.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="seconds, from memory",
            example="10 s",
            shown_unit="s",
        ),
    )
    terminals = (
        Terminal("battery", "where it is fed", main=True),
        Terminal("mains", "its socket", gives=True, alternating=True),
    )
    derived = ("output_ohm", "most_amps", "idle_watts", "loss_share", "loss_growth")
    pushes = "mains"
    states = (Latch("off", set_after="cutoff_delay", clear_after="restart_delay", judged="worst"),)
    suspects = (
        Suspect(
            "the inverter's own draw",
            "an inverter with a smaller idle power, or one that is switched off",
            (("idle_watts", 0.0),),
            sizing=True,
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its limit, its sag, and a loss of idle + a P + b P²/rating through both efficiencies."""
        rating, mains, idle = float(p["rating"]), float(p["mains"]), given(p, "idle")
        if float(p["restart"]) <= float(p["cutoff"]):
            raise ParameterProblem(
                "restart",
                f"switches on above {float(p['restart']):.4g} V, which is not above the "
                f"{float(p['cutoff']):.4g} V below which it switches off",
                "two volts between them are usual for 12 V",
            )
        idle = IDLE_SHARE * rating if idle is None else idle
        half = 1.0 / float(p["efficiency_half"]) - 1.0 - 2.0 * idle / rating
        full = 1.0 / float(p["efficiency_full"]) - 1.0 - idle / rating
        if not 0.0 <= half <= full <= 2.0 * half:
            raise ParameterProblem(
                "efficiency_half",
                f"{100 * float(p['efficiency_half']):.4g} % at half load does not go with "
                f"{100 * float(p['efficiency_full']):.4g} % at full load and {idle:.4g} W of idle "
                "power: a part of the loss would be negative",
                "compare the three with the datasheet once more",
            )
        return {
            "output_ohm": SAG_SHARE * mains**2 / rating,
            "most_amps": rating / mains,
            "idle_watts": idle,
            "loss_share": 2.0 * half - full,
            "loss_growth": 2.0 * (full - half),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the battery and mains terminals [A]."""
        amps = output_amps(v, x, p)
        watts = np.maximum(v.mains * amps, 0.0)
        idle = (1.0 - x.off) * constant_power(v.battery, p.idle_watts, p.cutoff)
        taken = (watts + loss_watts(watts, p)) / np.maximum(v.battery, p.cutoff - FADE_V)
        return taken + idle, -amps

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `off`."""
        return v.battery < p.cutoff, v.battery > p.restart

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss, what a reversed output would push in, and idle power [W]."""
        watts = v.mains * output_amps(v, x, p)
        idle = (1.0 - x.off) * constant_power(v.battery, p.idle_watts, p.cutoff)
        lost = loss_watts(np.maximum(watts, 0.0), p) + np.maximum(-watts, 0.0)
        return lost + v.battery * idle
