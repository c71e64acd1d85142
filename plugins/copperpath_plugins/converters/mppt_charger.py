"""A charge controller that looks for the most power its panels can give."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Terminal,
    Values,
    between,
    elementwise,
    where,
)
from copperpath_plugins.converters.panel_controller import (
    COMMON,
    OWN_DRAW,
    START_VOLTAGE,
    check_wakes_below_charging,
    idle_amps,
)
from copperpath_plugins.converters.stages import (
    STAGE_DERIVED,
    STAGE_PARAMETERS,
    STAGE_STATES,
    absorption_ends,
    aim_voltage,
    charging_begins,
    stage_values,
    timer_rate,
)

DEAD_V = 1.0
"""Below this voltage at the battery side the output fades to nothing: a choice, so that a short
circuit draws no power out of nowhere and the curve stays continuous."""


@elementwise
def could_give(v: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """The most it could give to the battery side [A]: what the sun gives, within the limit."""
    return np.minimum(d.offer * p.efficiency / np.maximum(v.battery, DEAD_V), p.output_limit)


@elementwise
def charging_amps(v: Elementwise, x: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """Current given to the battery side [A]: the least of what the sun gives, the limit and
    what the set voltage still asks for; none while asleep."""
    wanted = (aim_voltage(x, p) - v.battery) / p.droop
    amps = np.maximum(np.minimum(could_give(v, d, p), wanted), 0.0)
    return x.awake * between(v.battery / DEAD_V, 0.0, 1.0) * amps


class MpptCharger(Model):
    """Output from the best the panels offer; the engine finds that offer."""

    interface = 1
    name = "mppt_charger"
    kind = "converter"
    summary = "a charge controller that tracks the panels' most powerful voltage"
    leaves_out = (
        "efficiency at small power (one figure for all); that its tail current counts what loads "
        "take, too; the minutes a scan takes; what heat does to its limit; battery temperature "
        "correction of the voltage"
    )
    parameters = (
        Parameter(
            "output_limit",
            "current",
            "the most it gives to the battery side",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could give nothing",
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
            example="50 V",
            shown_unit="V",
        ),
        Parameter(
            "efficiency",
            "share",
            "output power as a share of the power taken from the panels, idle current aside",
            default=0.95,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.92 to 0.97 between a fifth and full output is common practice, no source",
            example="95 %",
            shown_unit="%",
        ),
        Parameter(
            "idle",
            "current",
            "what it draws from the battery side day and night",
            default=0.012,
            low=0.0,
            bound_reason="a controller takes current, it does not give any",
            basis="10 to 35 mA is common practice, no source; 12 mA for a small one",
            example="12 mA",
            shown_unit="mA",
        ),
        Parameter(
            "droop",
            "resistance",
            "how far its output stands under the charging voltage for each ampere",
            default=0.020,
            low=0.001,
            high=1.0,
            bound_reason="an output sags by between 1 mV and 1 V for each ampere",
            basis="regulation within 0.2 V at 10 A, from memory",
            example="20 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "headroom",
            "voltage",
            "how far the panel side must stay above the battery side to go on charging",
            default=1.0,
            low=0.0,
            high=50.0,
            bound_reason="a headroom is between 0 V and 50 V",
            basis="+1 V while running is common practice, no source",
            example="1 V",
            shown_unit="V",
        ),
        Parameter(
            "start_headroom",
            "voltage",
            "how far the panel side must be above the battery side to begin charging",
            default=5.0,
            low=0.0,
            high=50.0,
            bound_reason="a headroom is between 0 V and 50 V",
            basis="+5 V to begin is common practice, no source",
            example="5 V",
            shown_unit="V",
        ),
        START_VOLTAGE,
        COMMON,
        *STAGE_PARAMETERS,
    )
    terminals = (
        Terminal("panel", "the panels", seeking=True, limit="max_input"),
        Terminal("battery", "the battery side", main=True, gives=True),
    )
    derived = STAGE_DERIVED
    pushes = "absorb"
    states = (Latch("awake", giving=True), *STAGE_STATES)
    suspects = (OWN_DRAW,)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """What the stages need; checks that the voltages are in order."""
        check_wakes_below_charging(p)
        if float(p["start_headroom"]) < float(p["headroom"]):
            raise ParameterProblem(
                "start_headroom",
                f"begins {float(p['start_headroom']):.4g} V above the battery but stops already at "
                f"{float(p['headroom']):.4g} V above it",
                "it begins at a higher panel voltage than it stops at",
            )
        return stage_values(p, float(p["output_limit"]))

    @staticmethod
    def floor(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Lowest panel voltage at which it works [V]; higher while it is still asleep."""
        return v.battery + p.headroom + (1.0 - x.awake) * (p.start_headroom - p.headroom)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Watts taken from the panels, current into the battery terminal [A]."""
        amps = charging_amps(v, x, d, p)
        idle = idle_amps(v, p)
        return amps * v.battery / p.efficiency, idle - amps

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Wakes when battery and panels suffice, sleeps when either is gone; then the stages."""
        wakes = (v.battery > p.start_voltage) & (d.offer * p.efficiency > p.idle * v.battery)
        sleeps = (v.battery < 0.9 * p.start_voltage) | (d.offer <= 0.0)
        amps = charging_amps(v, x, d, p)
        spare = where(could_give(v, d, p) > amps, 1.0, 0.0)
        return (
            wakes,
            sleeps,
            timer_rate(v.battery, x.awake, x, p),
            absorption_ends(v.battery, amps, spare, x.awake, x, p),
            charging_begins(v.battery, x.awake, p),
        )

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss and idle draw [W]."""
        given = v.battery * charging_amps(v, x, d, p)
        idle = v.battery * idle_amps(v, p)
        return given * (1.0 / p.efficiency - 1.0) + idle
