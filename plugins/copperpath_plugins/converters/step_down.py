"""A converter from the battery's voltage down to a lower, held one."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Model,
    Parameter,
    ParameterProblem,
    Terminal,
    Values,
    Window,
    constant_current,
    elementwise,
)
from copperpath_plugins.converters.held_output import FADE_V, fade_in, held_amps, output_resistance

BLEED_S = 2e-5
"""What its own feedback divider takes at the output, 0.1 mA at 5 V: from memory. With nothing
connected it also keeps the output clear of the corner where regulation begins."""


@elementwise
def output_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """Current given at the output [A]: what holds the voltage, within the limit, never below
    zero, fading out under the input window."""
    fade = fade_in(v.in_, p.input_low)
    return fade * held_amps(v.out, p.output, p.output_resistance, p.output_limit)


class StepDown(Model):
    """Output held with a small sag, current limited; power in is power out over efficiency."""

    interface = 1
    name = "step_down"
    kind = "converter"
    summary = "a converter to a lower, held voltage such as 5 V"
    leaves_out = (
        "how efficiency falls at a small output (the idle current stands for it); what happens "
        "above the input window; the inrush into its input; ripple and radio noise"
    )
    parameters = (
        Parameter(
            "output",
            "voltage",
            "the voltage it holds at no load",
            required=True,
            low=0.5,
            high=100.0,
            bound_reason="supplies here are between 0.5 V and 100 V",
            example="5 V",
            shown_unit="V",
        ),
        Parameter(
            "output_limit",
            "current",
            "the most it gives at its output",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could give nothing",
            example="3 A",
            shown_unit="A",
        ),
        Window(
            "input",
            "voltage",
            "the voltages at its input between which it works",
            required=True,
            low=1.0,
            high=100.0,
            bound_reason="an input window lies between 1 V and 100 V",
            example="9 V .. 30 V",
            shown_unit="V",
        ),
        Parameter(
            "efficiency",
            "share",
            "output power as a share of input power, idle current aside",
            default=0.90,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.87 to 0.92 between half and full output is common practice, no source",
            example="90 %",
            shown_unit="%",
        ),
        Parameter(
            "idle",
            "current",
            "what it draws at its input with nothing connected",
            default=0.010,
            low=0.0,
            bound_reason="a converter takes current, it does not give any",
            basis="5 to 30 mA is common practice, no source",
            example="10 mA",
            shown_unit="mA",
        ),
        output_resistance(),
    )
    pushes = "output"
    terminals = (
        Terminal("in", "where it is fed", main=True),
        Terminal("out", "the held voltage", gives=True),
    )
    powered = ("in", "input_low")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Nothing new; checks that it steps down."""
        output, lowest = float(p["output"]), float(p["input_low"])
        if lowest - FADE_V < output:
            raise ParameterProblem(
                "input",
                f"starts at {lowest:.4g} V, which is not {FADE_V:g} V above the output of "
                f"{output:.4g} V; a step-down cannot raise a voltage",
                f"give the window of its datasheet; it begins at {output + FADE_V:.4g} V or above",
            )
        return {}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into input and output [A]."""
        amps = output_amps(v, p)
        watts = np.maximum(v.out * amps, 0.0) / p.efficiency
        taken = watts / np.maximum(v.in_, p.input_low - FADE_V)
        return taken + constant_current(v.in_, p.idle, p.input_low), BLEED_S * v.out - amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss, what a reversed output would push in, bleed and idle draw [W]."""
        watts = v.out * output_amps(v, p)
        idle = v.in_ * constant_current(v.in_, p.idle, p.input_low)
        lost = np.maximum(watts, 0.0) * (1.0 / p.efficiency - 1.0)
        return lost + np.maximum(-watts, 0.0) + idle + BLEED_S * v.out**2
