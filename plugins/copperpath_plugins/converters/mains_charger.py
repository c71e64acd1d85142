"""A battery charger that is fed from the mains or from a generator."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Model,
    Parameter,
    Terminal,
    Values,
    between,
    constant_power,
    elementwise,
    where,
)
from copperpath_plugins.converters.stages import (
    DROOP,
    STAGE_DERIVED,
    STAGE_PARAMETERS,
    STAGE_STATES,
    absorption_ends,
    charging_begins,
    droop_ohm,
    stage_values,
    timer_rate,
    wanted_share,
)

NONE_SHARE, ALL_SHARE = 0.75, 0.85
"""Shares of its rated mains voltage between which its output rises from nothing to all of it: a
choice; real ones switch off and on again, here it gives way gently to a weak generator."""


@elementwise
def could_give(v: Elementwise, p: Elementwise) -> Elementwise:
    """The most it could give at this mains voltage [A]."""
    share = (v.mains / p.mains - NONE_SHARE) / (ALL_SHARE - NONE_SHARE)
    return p.output_limit * between(share, 0.0, 1.0)


@elementwise
def charging_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current given to the battery [A]: what it could, less as the set voltage comes near."""
    return could_give(v, p) * wanted_share(v, x, p)


class MainsCharger(Model):
    """Output current at a held voltage; what it takes is output power over efficiency."""

    name = "mains_charger"
    kind = "converter"
    interface = 1
    summary = "a battery charger fed from the mains or a generator"
    leaves_out = (
        "efficiency at small power (one figure for all); current out of phase and its peaks, which "
        "load a small generator beyond its watts (power factors near 0.6 are common); the few "
        "milliamperes it takes from the battery while unplugged; battery temperature correction"
    )
    parameters = (
        Parameter(
            "output_limit",
            "current",
            "the most it gives to the battery",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could give nothing",
            example="30 A",
            shown_unit="A",
        ),
        Parameter(
            "mains",
            "voltage",
            "the mains voltage it is made for",
            default=230.0,
            low=50.0,
            high=300.0,
            bound_reason="mains voltages lie between 50 V and 300 V",
            basis="230 V, as in most of the world",
            example="230 V",
            shown_unit="V",
        ),
        Parameter(
            "efficiency",
            "share",
            "output power as a share of the power taken, idle power aside",
            default=0.87,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.85 to 0.9 is common practice, no source",
            example="87 %",
            shown_unit="%",
        ),
        Parameter(
            "idle",
            "power",
            "what it takes from the mains without giving anything",
            default=3.0,
            low=0.0,
            bound_reason="a converter takes power, it does not give any",
            basis="a few watts, from memory",
            example="3 W",
            shown_unit="W",
        ),
        DROOP,
        *STAGE_PARAMETERS,
    )
    terminals = (
        Terminal("mains", "its plug", alternating=True),
        Terminal("battery", "the battery that it charges", main=True, gives=True),
    )
    derived = ("lowest_mains", "droop_ohm", *STAGE_DERIVED)
    pushes = "absorb"
    states = STAGE_STATES

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Lowest mains voltage at which it gives anything, and what the stages need."""
        return {
            "lowest_mains": NONE_SHARE * float(p["mains"]),
            "droop_ohm": droop_ohm(p, float(p["output_limit"])),
            **stage_values(p, float(p["output_limit"])),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the mains and battery terminals [A]."""
        amps = charging_amps(v, x, p)
        watts = np.maximum(v.battery * amps, 0.0) / p.efficiency
        idle = constant_power(v.mains, p.idle, p.lowest_mains)
        return watts / np.maximum(v.mains, p.lowest_mains) + idle, -amps

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """The stages."""
        amps = charging_amps(v, x, p)
        works = where(could_give(v, p) > 0.0, 1.0, 0.0)
        spare = where(could_give(v, p) > amps, 1.0, 0.0)
        return (
            timer_rate(v.battery, works, x, p),
            absorption_ends(v.battery, amps, spare, works, x, p),
            charging_begins(v.battery, works, p),
        )

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss, what a reversed output would push in, and idle power [W]."""
        watts = v.battery * charging_amps(v, x, p)
        lost = np.maximum(watts, 0.0) * (1.0 / p.efficiency - 1.0) + np.maximum(-watts, 0.0)
        return lost + v.mains * constant_power(v.mains, p.idle, p.lowest_mains)
