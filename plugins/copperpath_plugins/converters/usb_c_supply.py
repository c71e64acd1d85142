"""A USB-C outlet that has agreed on one voltage with its device (USB Power Delivery)."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Choice,
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

PROFILE_V = {
    "five_volts": 5.0,
    "nine_volts": 9.0,
    "twelve_volts": 12.0,
    "fifteen_volts": 15.0,
    "twenty_volts": 20.0,
}
CABLE_A = {"three_amps": 3.0, "five_amps": 5.0}
USUAL_A = 3.0
"""Most current of every profile below 20 V, whatever the cable: USB Power Delivery as quoted in a
controller's design note (12 V, which it does not list, from memory)."""

BLEED_S = 2e-5
"""What its own feedback divider takes at the output, 0.1 mA at 5 V: from memory. With nothing
connected it also keeps the output clear of the corner where regulation begins."""


@elementwise
def output_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """Current given at the outlet [A]."""
    fade = fade_in(v.in_, p.input_low)
    return fade * held_amps(v.out, p.output_volts, p.output_resistance, p.most_amps)


class UsbCSupply(Model):
    """One outlet at the voltage of its profile; cable class and budget bound its current.

    The input may lie above or below the output. A supply with several outlets is written as
    several devices, each with what it leaves to the others as `other_outlets`: so do most real
    ones, which divide their power among their outlets by what is plugged in.
    """

    interface = 1
    name = "usb_c_supply"
    kind = "converter"
    summary = "a USB-C outlet at the voltage that its device has chosen, within a power budget"
    leaves_out = (
        "the talk by which device and supply agree, and a change of profile while it runs; a "
        "budget that moves from one outlet to another by what each takes at the moment (give each "
        "its fixed part); that too much current switches the outlet off (here its voltage falls); "
        "voltages in small steps and above 20 V; what happens above the input window; inrush, "
        "ripple and radio noise"
    )
    parameters = (
        Choice(
            "profile",
            tuple(PROFILE_V),
            "the voltage chosen by the device; not every supply has `twelve_volts`",
            required=True,
        ),
        Parameter(
            "budget",
            "power",
            "the most that the supply gives at all its outlets together",
            required=True,
            low=0.0,
            low_allowed=False,
            high=240.0,
            bound_reason="supplies of this kind give up to 240 W",
            example="65 W",
            shown_unit="W",
        ),
        Parameter(
            "other_outlets",
            "power",
            "how much of the budget is kept for its other outlets",
            default=0.0,
            low=0.0,
            high=240.0,
            bound_reason="supplies of this kind give up to 240 W",
            basis="one outlet in use, from memory",
            example="20 W",
            shown_unit="W",
        ),
        Choice(
            "cable",
            tuple(CABLE_A),
            "what its cable carries; only a marked cable carries five, and only at 20 V",
            default="three_amps",
            basis="a cable without a mark, from memory",
        ),
        Window(
            "input",
            "voltage",
            "the voltages at its input between which it works; below the lower one it is off",
            default=(10.0, 30.0),
            low=1.0,
            high=100.0,
            bound_reason="an input window lies between 1 V and 100 V",
            basis="supplies for 12 V and 24 V, from memory",
            example="10 V .. 30 V",
            shown_unit="V",
        ),
        *curve_parameters(
            0.82, 0.92, 0.89, "0.82, 0.92 and 0.89 for one that steps up, from memory"
        ),
        Parameter(
            "idle",
            "current",
            "what it draws at its input with nothing plugged in",
            default=0.025,
            low=0.0,
            bound_reason="a converter takes current, it does not give any",
            basis="10 to 50 mA is common practice, no source",
            example="25 mA",
            shown_unit="mA",
        ),
        output_resistance(
            "how far the output sags for each ampere, its cable not counted",
            basis="plug and socket, from memory",
        ),
    )
    pushes = "output_volts"
    terminals = (
        Terminal("in", "where it is fed", main=True),
        Terminal("out", "the outlet", gives=True),
    )
    derived = ("output_volts", "most_amps", *CURVE_DERIVED)
    powered = ("in", "input_low")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its voltage, its most current, and the curve of its loss by the whole budget."""
        volts, budget = PROFILE_V[p["profile"]], float(p["budget"])
        others = float(p["other_outlets"])
        if others >= budget:
            raise ParameterProblem(
                "other_outlets",
                f"keeps {others:.4g} W of a budget of {budget:.4g} W for other outlets, so that "
                "this one could give nothing",
                "give what its datasheet says for outlets in use together, such as 45 W and 20 W",
            )
        amps = CABLE_A[p["cable"]] if p["profile"] == "twenty_volts" else USUAL_A
        return {
            "output_volts": volts,
            "most_amps": min(amps, (budget - others) / volts),
            **curve_values(p, budget),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into input and outlet [A]."""
        amps = output_amps(v, p)
        watts = np.maximum(v.out * amps, 0.0)
        taken = (watts + loss_watts(watts, p)) / np.maximum(v.in_, p.input_low - FADE_V)
        return taken + constant_current(v.in_, p.idle, p.input_low), BLEED_S * v.out - amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss, what a reversed outlet would push in, bleed and idle draw [W]."""
        watts = v.out * output_amps(v, p)
        idle = v.in_ * constant_current(v.in_, p.idle, p.input_low)
        lost = loss_watts(np.maximum(watts, 0.0), p) + np.maximum(-watts, 0.0)
        return lost + idle + BLEED_S * v.out**2
