"""A radio: what it draws on receive and keyed, how often it is keyed, how hard the mode works."""

from __future__ import annotations

import math
from typing import Any

from copperpath.plugin_api import (
    Choice,
    FloatArray,
    Hours,
    Keying,
    Model,
    Parameter,
    ParameterProblem,
    ShareByHour,
    Surroundings,
    Terminal,
    Values,
    constant_current,
)
from copperpath_plugins.loads.radio_supply import RADIO_WORKS
from copperpath_plugins.values import given

MODE_FACTORS = {
    "ssb": 0.2,
    "ssb_processed": 0.5,
    "cw": 0.4,
    "fm": 1.0,
    "fsk": 1.0,
    "afsk": 1.0,
    "carrier": 1.0,
}
"""Mean power over peak power while sending: FCC OET Bulletin 65 Supplement B, edition 97-01,
table 2 (conversational voice and keying). Used here for the current above that of key-up."""


class Transceiver(Model):
    """Amps = receive + level (keyed - receive); the engine makes the level.

    Keyed is `transmit`, or at a lower power setting less by the square root of the power, but for
    the bias: half the power is not half the current.
    """

    interface = 1
    name = "transceiver"
    kind = "load"
    summary = "a radio with its receive and transmit current, hours, share of sending and mode"
    leaves_out = (
        "how the power falls with the supply voltage; what a power setting takes is a rule of "
        "thumb (a current measured at that setting, given as `transmit` alone, is better); the "
        "fan; the inrush at switch-on; "
        "the mode factor is a mean, speech and keying vary; below the least voltage it works at "
        "its current is taken to fade, so that volts shown there are a little kind"
    )
    parameters = (
        Parameter(
            "receive",
            "current",
            "what it draws on receive",
            required=True,
            low=0.0,
            bound_reason="a radio takes current, it does not give any",
            example="0.35 A",
            shown_unit="A",
        ),
        Parameter(
            "transmit",
            "current",
            "what it draws fully keyed, at the power setting that is used; at `full_power` where "
            "`power` is given",
            required=True,
            low=0.0,
            bound_reason="a radio takes current, it does not give any",
            example="2.1 A",
            shown_unit="A",
        ),
        Parameter(
            "full_power",
            "power",
            "what it sends (radio-frequency power) when it draws `transmit`; wanted with `power`",
            low=0.0,
            low_allowed=False,
            bound_reason="a radio that sends nothing has no power setting",
            example="10 W",
            shown_unit="W",
        ),
        Parameter(
            "power",
            "power",
            "what it sends at the setting that is used (radio-frequency power, not what it takes); "
            "its current is then the bias and a share above it that goes with the square root of "
            "the power (common practice, no source); `full_power` if not given",
            low=0.0,
            low_allowed=False,
            bound_reason="a radio that sends nothing has no power setting",
            example="5 W",
            shown_unit="W",
        ),
        Parameter(
            "bias",
            "current",
            "what it draws in transmit without sending any power, wanted with `power` unless "
            "`key_up` says it: 3 to 5 A for 100 W, on FM about the receive current (common "
            "practice, no source)",
            low=0.0,
            bound_reason="a radio takes current, it does not give any",
            example="0.6 A",
            shown_unit="A",
        ),
        Parameter(
            "key_up",
            "current",
            "what it draws in transmit without speech or keying; the receive current if not given",
            low=0.0,
            bound_reason="a radio takes current, it does not give any",
            basis="the receive current",
            example="0.6 A",
            shown_unit="A",
        ),
        Parameter(
            "standby",
            "current",
            "what it draws while switched off",
            default=0.005,
            low=0.0,
            bound_reason="a radio takes current, it does not give any",
            basis="2 to 20 mA while switched off is common practice, no source",
            example="5 mA",
            shown_unit="mA",
        ),
        ShareByHour(
            "transmitting",
            "the share of its hours in which it sends",
            required=True,
            example="15 %",
        ),
        Choice(
            "mode",
            tuple(MODE_FACTORS),
            "how hard the mode works while sending, as a mean level: ssb 0.2, ssb_processed 0.5, "
            "cw 0.4, fm, fsk, afsk and carrier 1 (FCC OET Bulletin 65 Supplement B)",
            default="carrier",
            basis="full current all the time it sends, the most it can be; `mode_factor` wins",
        ),
        Parameter(
            "mode_factor",
            "share",
            "mean level while sending as a number, in place of the one that `mode` stands for",
            low=0.0,
            high=1.0,
            bound_reason="it is a share of full level",
            example="0.45",
        ),
        Parameter(
            "mode_square",
            "share",
            "mean of the squared level while sending, for the heat in cables; the mode factor if "
            "not given (either fully on or off)",
            low=0.0,
            high=1.0,
            bound_reason="it is a share of full level",
            basis="the mode factor: either fully on or off, which heats most",
            example="0.35",
        ),
        Hours("on", "when it is on", inverse="off"),
        RADIO_WORKS,
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("keyed", "mode_mean", "mode_mean_square")
    drives = ("wanted", "share")
    keying = Keying()
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Current fully keyed, and mean and mean square of the level while sending, key-up current
        included."""
        receive, transmit = float(p["receive"]), float(p["transmit"])
        if transmit < receive:
            raise ParameterProblem(
                "transmit",
                f"transmit current {transmit:.4g} A is below the receive current {receive:.4g} A",
                "are the two the wrong way round?",
            )
        keyed = _keyed_amps(p, receive, transmit)
        key_up = given(p, "key_up")
        key_up = receive if key_up is None else key_up
        if not receive <= key_up <= keyed:
            raise ParameterProblem(
                "key_up",
                f"key-up current {key_up:.4g} A is not between receive {receive:.4g} A and "
                f"transmit {keyed:.4g} A",
                "leave it out where it is the receive current",
            )
        mean, square = _mode(p)
        # Level counts from receive (0) to fully keyed (1); without speech it stands at `rest`.
        rest = (key_up - receive) / (keyed - receive) if keyed > receive else 0.0
        above = 1.0 - rest
        return {
            "keyed": keyed,
            "mode_mean": rest + above * mean,
            "mode_mean_square": rest**2 + 2.0 * rest * above * mean + above**2 * square,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on; `share`: for which it sends."""
        wanted = site.schedule(p["on"])
        return {"wanted": wanted, "share": wanted * site.schedule(p["transmitting"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        amps = p.standby + d.wanted * (p.receive - p.standby)
        amps = amps + d.level * (p.keyed - p.receive)
        return (constant_current(v.line, amps, p.works_low),)


def _keyed_amps(p: Values, receive: float, transmit: float) -> float:
    """Current fully keyed at the power setting [A]."""
    power, full, bias = given(p, "power"), given(p, "full_power"), given(p, "bias")
    if bias is None:
        bias = given(p, "key_up")
    elif not receive <= bias <= transmit:
        raise ParameterProblem(
            "bias",
            f"a bias of {bias:.4g} A is not between receive {receive:.4g} A and transmit "
            f"{transmit:.4g} A",
            "it is what the radio draws in transmit while it sends nothing",
        )
    if power is None:
        return transmit
    if full is None:
        raise ParameterProblem(
            "power",
            f"it is not said at which power it draws {transmit:.4g} A, so its current at "
            f"{power:.4g} W sent is not known",
            "give `full_power 100 W`, what it sends at that current, or leave `power` out and give "
            "the current at the setting used, `transmit 2.1 A`",
        )
    if power > full:
        raise ParameterProblem(
            "power",
            f"{power:.4g} W is above its full power of {full:.4g} W",
            "`power` is the setting used, `full_power` what it sends when it draws `transmit`",
        )
    if bias is None:
        raise ParameterProblem(
            "power",
            "what it draws in transmit without sending any power is not said, so its current at "
            f"{power:.4g} W sent is not known",
            f"give `bias`: on FM about what it draws on receive, `bias {receive:.3g} A`; 3 to 5 A "
            "are common for an HF radio of 100 W",
        )
    return bias + (transmit - bias) * math.sqrt(power / full)


def _mode(p: Values) -> tuple[float, float]:
    """Mean and mean square of the level above key-up while sending."""
    mean = given(p, "mode_factor")
    if mean is None:
        mean = MODE_FACTORS[p["mode"]]
    square = given(p, "mode_square")
    if square is None:
        return mean, mean
    if not mean**2 - 1e-12 <= square <= mean + 1e-12:
        raise ParameterProblem(
            "mode_square",
            f"a level with a mean of {mean:.4g} has a mean square between {mean**2:.4g} and "
            f"{mean:.4g}, not {square:.4g}",
            "leave it out if in doubt",
        )
    return mean, square
