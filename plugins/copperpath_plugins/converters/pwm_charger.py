"""A charge controller that joins panel and battery and pulses once the set voltage is reached."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Latch,
    Model,
    Parameter,
    Terminal,
    Values,
    elementwise,
    where,
)
from copperpath_plugins.blocks.one_way import line_begins, one_way_amps
from copperpath_plugins.converters.panel_controller import (
    COMMON,
    OWN_DRAW,
    START_VOLTAGE,
    check_wakes_below_charging,
    idle_amps,
)
from copperpath_plugins.converters.stages import (
    DROOP,
    STAGE_DERIVED,
    STAGE_PARAMETERS,
    STAGE_STATES,
    absorption_ends,
    aim_voltage,
    charging_begins,
    droop_ohm,
    stage_values,
    timer_rate,
)

KNEE_SHARE, BEND_SHARE = 0.05, 0.10
"""Shares of its drop below which nothing flows, and over which the current begins: a choice that
keeps the curve smooth; it is at its drop at the rated current."""


@elementwise
def joined_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """Current with panel and battery joined [A]: only towards the battery."""
    return one_way_amps(v.panel - v.battery, p.knee, p.bend, p.ohm)


@elementwise
def wanted_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current that the set voltage still asks for, within the limit [A]."""
    wanted = (aim_voltage(x, p) - v.battery) / p.droop_ohm
    return np.minimum(np.maximum(wanted, 0.0), p.output_limit)


@elementwise
def passed_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current passed from panel to battery [A], the mean over its pulses."""
    return x.awake * np.minimum(joined_amps(v, p), wanted_amps(v, x, p))


class PwmCharger(Model):
    """In bulk the panel stands at the battery's voltage and a small drop; then the mean of the
    pulses is what holds the set voltage. Amperes in are amperes out: no watts are won."""

    name = "pwm_charger"
    kind = "converter"
    interface = 1
    summary = "a charge controller that joins the panels straight to the battery"
    leaves_out = (
        "that its pulses leave the panel at two voltages, not at one between: once it holds its "
        "voltage, the panel's watts and its own heat are both shown too large, by the same; the "
        "ripple of its pulses; a controller that shuts down above its rated current (here the "
        "current stays at the rating); battery temperature correction of the voltage"
    )
    parameters = (
        Parameter(
            "output_limit",
            "current",
            "the most it passes on",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could pass nothing",
            example="10 A",
            shown_unit="A",
        ),
        Parameter(
            "max_input",
            "voltage",
            "the most the panel side may ever see (open circuit on the coldest morning)",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1000.0,
            bound_reason="controllers here take panels of up to 1000 V",
            example="30 V",
            shown_unit="V",
        ),
        Parameter(
            "drop",
            "voltage",
            "what is lost from panel to battery at the rated current",
            default=0.2,
            low=0.01,
            high=3.0,
            bound_reason="controllers lose between 10 mV and 3 V",
            basis="0.2 V is common practice, no source",
            example="0.2 V",
            shown_unit="V",
        ),
        Parameter(
            "idle",
            "current",
            "what it draws from the battery side day and night",
            default=0.008,
            low=0.0,
            bound_reason="a controller takes current, it does not give any",
            basis="4 to 10 mA is common practice, no source",
            example="8 mA",
            shown_unit="mA",
        ),
        DROOP,
        START_VOLTAGE,
        COMMON,
        *STAGE_PARAMETERS,
    )
    terminals = (
        Terminal("panel", "the panels", limit="max_input"),
        Terminal("battery", "the battery side", main=True, gives=True),
    )
    derived = ("knee", "bend", "ohm", "droop_ohm", *STAGE_DERIVED)
    pushes = "absorb"
    states = (Latch("awake", giving=True), *STAGE_STATES)
    suspects = (OWN_DRAW,)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Curve of its drop and what the stages need; checks that the voltages are in order."""
        check_wakes_below_charging(p)
        drop, limit = float(p["drop"]), float(p["output_limit"])
        straight = 1.0 - line_begins(KNEE_SHARE, BEND_SHARE)
        return {
            "knee": KNEE_SHARE * drop,
            "bend": BEND_SHARE * drop,
            "ohm": straight * drop / limit,
            "droop_ohm": droop_ohm(p, limit),
            **stage_values(p, limit),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the panel and battery terminals [A]."""
        amps = passed_amps(v, x, p)
        return amps, idle_amps(v, p) - amps

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Wakes and sleeps with the battery side; then the stages."""
        works = where((x.awake > 0.5) & (v.panel > v.battery), 1.0, 0.0)
        amps = passed_amps(v, x, p)
        spare = where(joined_amps(v, p) > amps, 1.0, 0.0)
        return (
            v.battery > p.start_voltage,
            v.battery < 0.9 * p.start_voltage,
            timer_rate(v.battery, works, x, p),
            absorption_ends(v.battery, amps, spare, works, x, p),
            charging_begins(v.battery, works, p),
        )

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """What is lost from panel to battery, and idle draw [W]."""
        idle = v.battery * idle_amps(v, p)
        return (v.panel - v.battery) * passed_amps(v, x, p) + idle
