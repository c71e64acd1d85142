"""A booster that holds a radio's 13.8 V while the battery sags."""

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
    constant_current,
    elementwise,
)
from copperpath_plugins.converters.held_output import FADE_V, fade_in, held_amps, output_resistance

BLEED_S = 1e-5
"""What its own feedback divider takes at the output, 0.14 mA at 13.8 V: from memory. With nothing
connected it also keeps the output clear of the corner where regulation begins."""


@elementwise
def share_on(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """1 while it works, 0 switched off, fading below its minimum until that acts."""
    return (1.0 - x.off) * fade_in(v.in_, p.minimum)


@elementwise
def boosted_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current given by the boosting stage [A]: what holds the voltage, within the limit."""
    held = held_amps(v.out, p.output, p.output_resistance, p.output_limit)
    return share_on(v, x, p) * held


@elementwise
def bypass_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current that passes straight from input to output [A], never backwards."""
    drop = np.minimum(v.in_, p.input_highest) - v.out
    return share_on(v, x, p) * np.maximum(drop, 0.0) / p.bypass_ohm


@elementwise
def own_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """What it draws for itself at the input [A]."""
    return (1.0 - x.off) * constant_current(v.in_, p.idle, p.minimum)


class VoltageBooster(Model):
    """Two ways from input to output: a stage that holds the voltage, and one that only passes.

    The bypass is a resistance with one direction. Where the input is high enough, the output lies
    above the held voltage and the stage rests; where the stage is at its limit, the output sinks
    until the bypass carries the rest.
    """

    interface = 1
    name = "voltage_booster"
    kind = "converter"
    summary = "holds a radio's supply at 13.8 V from a battery that sags, with a bypass"
    leaves_out = (
        "how its efficiency changes with load and input (one figure for all); the time it needs "
        "when a radio is keyed; what it draws switched off; what its bypass passes while it is "
        "switched off (in some a diode stays); inrush, ripple and radio noise"
    )
    parameters = (
        Parameter(
            "output",
            "voltage",
            "the voltage it holds at no load",
            default=13.8,
            low=1.0,
            high=100.0,
            bound_reason="supplies here are between 1 V and 100 V",
            basis="the usual supply of radios, 13.8 V, in equipment handbooks",
            example="13.8 V",
            shown_unit="V",
        ),
        Parameter(
            "output_limit",
            "current",
            "the most it gives while it boosts",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could give nothing",
            example="25 A",
            shown_unit="A",
        ),
        Parameter(
            "minimum",
            "voltage",
            "input voltage below which it switches off",
            default=10.0,
            low=2.0,
            high=100.0,
            bound_reason="boosters for radios work between 2 V and 100 V",
            basis="9 to 11 V for 12 V batteries, from memory",
            example="10 V",
            shown_unit="V",
        ),
        Parameter(
            "restart",
            "voltage",
            "input voltage above which it switches on again",
            default=11.5,
            low=1.0,
            high=100.0,
            bound_reason="batteries here have between 1 V and 100 V",
            basis="1 to 2 V above the minimum, from memory",
            example="11.5 V",
            shown_unit="V",
        ),
        Parameter(
            "input_highest",
            "voltage",
            "the highest input voltage that its bypass passes on",
            default=16.0,
            low=1.0,
            high=100.0,
            bound_reason="batteries here have between 1 V and 100 V",
            basis="what radios of 13.8 V plus 15 % stand, 15.87 V, in equipment handbooks",
            example="16 V",
            shown_unit="V",
        ),
        Parameter(
            "off_delay",
            "time",
            "how long the input must stay below `minimum` before it switches off",
            default=1.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="a second or less, from memory",
            example="1 s",
            shown_unit="s",
        ),
        Parameter(
            "efficiency",
            "share",
            "output power as a share of input power while it boosts, idle current aside",
            default=0.92,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.90 to 0.95 is common practice, no source",
            example="92 %",
            shown_unit="%",
        ),
        Parameter(
            "idle",
            "current",
            "what it draws at its input, boosting or not",
            default=0.050,
            low=0.0,
            bound_reason="a converter takes current, it does not give any",
            basis="30 to 80 mA is common practice, no source",
            example="50 mA",
            shown_unit="mA",
        ),
        Parameter(
            "bypass_drop",
            "voltage",
            "what is lost over its bypass at `output_limit`",
            default=0.3,
            low=0.001,
            high=3.0,
            bound_reason="a bypass loses between 1 mV and 3 V",
            basis="0.1 V over transistors to 0.5 V over a Schottky diode, from memory",
            example="0.3 V",
            shown_unit="V",
        ),
        output_resistance(
            "how far the held output sags for each ampere",
            0.005,
            "terminals and short lead inside the case, from memory",
            "5 mohm",
        ),
    )
    terminals = (
        Terminal("in", "where the battery feeds it", main=True),
        Terminal("out", "the radio's supply", gives=True),
    )
    derived = ("bypass_ohm", "highest_volts")
    pushes = "highest_volts"
    powered = ("in", "minimum")
    states = (Latch("off", set_after="off_delay", judged="worst"),)
    suspects = (
        Suspect(
            "the booster switches off at a low input",
            "thicker or shorter leads to it, a lower `minimum`, or a larger battery",
            (("minimum", "*0.5"),),
            latch="off",
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Resistance of its bypass, and the highest voltage at its output."""
        output, lowest, restart = float(p["output"]), float(p["minimum"]), float(p["restart"])
        if restart <= lowest:
            raise ParameterProblem(
                "restart",
                f"switches on above {restart:.4g} V, which is not above the {lowest:.4g} V below "
                "which it switches off",
                "one or two volts between them are usual for 12 V",
            )
        if lowest >= output:
            raise ParameterProblem(
                "minimum",
                f"switches off below {lowest:.4g} V, which is not below the {output:.4g} V that "
                "it holds: it would never boost",
                "about 10 V is usual for 12 V",
            )
        return {
            "bypass_ohm": float(p["bypass_drop"]) / float(p["output_limit"]),
            "highest_volts": max(output, float(p["input_highest"])),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into input and output [A]."""
        boosted, passed = boosted_amps(v, x, p), bypass_amps(v, x, p)
        watts = np.maximum(v.out * boosted, 0.0) / p.efficiency
        taken = watts / np.maximum(v.in_, p.minimum - FADE_V)
        return taken + passed + own_amps(v, x, p), BLEED_S * v.out - boosted - passed

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `off`."""
        return v.in_ < p.minimum, v.in_ > p.restart

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss of both ways, what a reversed output would push in, bleed and idle draw [W]."""
        watts = v.out * boosted_amps(v, x, p)
        lost = np.maximum(watts, 0.0) * (1.0 / p.efficiency - 1.0) + np.maximum(-watts, 0.0)
        passing = (v.in_ - v.out) * bypass_amps(v, x, p)
        return lost + passing + v.in_ * own_amps(v, x, p) + BLEED_S * v.out**2
