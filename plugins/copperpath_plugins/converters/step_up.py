"""A converter from the battery's voltage up to a higher, held one, such as 24 V."""

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
from copperpath_plugins.converters.loss_curve import (
    CURVE_DERIVED,
    curve_parameters,
    curve_values,
    loss_watts,
)

BLEED_SHARE = 1e-5
"""What its own feedback divider takes at the output, as a share of its limit: from memory. With
nothing connected it also keeps the output clear of the corner where regulation begins."""


@elementwise
def output_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """Current given at the output [A]: what holds the voltage, within the limit, never below
    zero, fading out under the input window."""
    fade = fade_in(v.in_, p.input_low)
    return fade * held_amps(v.out, p.output, p.output_resistance, p.output_limit)


@elementwise
def bleed_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """What its divider takes at the output [A]."""
    return BLEED_SHARE * p.output_limit * v.out / p.output


class StepUp(Model):
    """Output held with a small sag, current limited; the input gives output and loss as power."""

    interface = 1
    name = "step_up"
    kind = "converter"
    summary = "a converter to a higher, held voltage such as 24 V from 12 V"
    leaves_out = (
        "what passes straight through it where its input is above its output or its output is "
        "shorted (most have a diode from one to the other); a limit of its input current; how its "
        "efficiency changes with the input voltage; what happens above the input window; the "
        "inrush into its input; ripple and radio noise"
    )
    parameters = (
        Parameter(
            "output",
            "voltage",
            "the voltage it holds at no load",
            required=True,
            low=1.0,
            high=100.0,
            bound_reason="supplies here are between 1 V and 100 V",
            example="24 V",
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
            example="5 A",
            shown_unit="A",
        ),
        Window(
            "input",
            "voltage",
            "the voltages at its input between which it works; below the lower one it is off",
            required=True,
            low=1.0,
            high=100.0,
            bound_reason="an input window lies between 1 V and 100 V",
            example="10 V .. 16 V",
            shown_unit="V",
        ),
        *curve_parameters(
            None, 0.90, None, "0.82 to 0.92 for small boosters is common practice, no source"
        ),
        Parameter(
            "idle",
            "current",
            "what it draws at its input with nothing connected",
            default=0.030,
            low=0.0,
            bound_reason="a converter takes current, it does not give any",
            basis="10 to 50 mA is common practice, no source",
            example="30 mA",
            shown_unit="mA",
        ),
        output_resistance(),
    )
    pushes = "output"
    terminals = (
        Terminal("in", "where it is fed", main=True),
        Terminal("out", "the held voltage", gives=True),
    )
    derived = CURVE_DERIVED
    powered = ("in", "input_low")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """The curve of its loss; checks that it steps up."""
        output, highest = float(p["output"]), float(p["input_high"])
        if highest > output:
            raise ParameterProblem(
                "input",
                f"reaches to {highest:.4g} V, which is above the output of {output:.4g} V; a "
                "step-up cannot lower a voltage",
                f"let the window end at {output:.4g} V or below; `step_down` and "
                "`voltage_booster` do other things",
            )
        return curve_values(p, output * float(p["output_limit"]))

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into input and output [A]."""
        amps = output_amps(v, p)
        watts = np.maximum(v.out * amps, 0.0)
        taken = (watts + loss_watts(watts, p)) / np.maximum(v.in_, p.input_low - FADE_V)
        idle = constant_current(v.in_, p.idle, p.input_low)
        return taken + idle, bleed_amps(v, p) - amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss, what a reversed output would push in, bleed and idle draw [W]."""
        watts = v.out * output_amps(v, p)
        idle = v.in_ * constant_current(v.in_, p.idle, p.input_low)
        lost = loss_watts(np.maximum(watts, 0.0), p) + np.maximum(-watts, 0.0)
        return lost + idle + v.out * bleed_amps(v, p)
