"""A charger from one battery to another: from a vehicle's to the station's."""

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
    Window,
    between,
    constant_current,
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

IDLE_SHARE = 0.5
"""Share of the folding voltage below which its idle draw begins to end: a choice that lets it end
at zero volts without a jump."""


@elementwise
def could_give(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """The most it could give [A]: its limit, folded back while the vehicle's voltage is low."""
    share = (v.vehicle - p.folds_low) / (p.folds_high - p.folds_low)
    return x.running * p.output_limit * between(share, 0.0, 1.0)


@elementwise
def charging_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current given to the battery [A]: what it could, less as the set voltage comes near."""
    return could_give(v, x, p) * wanted_share(v, x, p)


class DcCharger(Model):
    """Output current at a held voltage, taken as power from a vehicle whose engine turns.

    The limit falls in a straight line over the span `folds`, so that a long lead finds its balance
    instead of switching. The span reaches below `engine_off`: else it would sip from a vehicle
    that has stopped, just above that voltage, and never end.
    """

    name = "dc_charger"
    kind = "converter"
    interface = 1
    summary = "a charger from a vehicle's battery to the station's, while the engine turns"
    leaves_out = (
        "efficiency at small power (one figure for all); a wire from the ignition in place of the "
        "voltage; what heat does to its limit; battery temperature correction of the voltage; the "
        "inrush into its input"
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
            example="20 A",
            shown_unit="A",
        ),
        Parameter(
            "efficiency",
            "share",
            "output power as a share of input power, idle current aside",
            default=0.90,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis="0.87 to 0.95 for converters of this size, from memory",
            example="90 %",
            shown_unit="%",
        ),
        Parameter(
            "idle",
            "current",
            "what it draws from the vehicle, engine on or off",
            default=0.010,
            low=0.0,
            bound_reason="a converter takes current, it does not give any",
            basis="5 to 20 mA, from memory",
            example="10 mA",
            shown_unit="mA",
        ),
        Parameter(
            "engine_on",
            "voltage",
            "vehicle voltage above which the engine counts as turning",
            default=13.2,
            low=1.0,
            high=100.0,
            bound_reason="vehicles here have between 1 V and 100 V",
            basis="13.2 to 14.8 V while it runs is common practice, no source",
            example="13.2 V",
            shown_unit="V",
        ),
        Parameter(
            "engine_off",
            "voltage",
            "vehicle voltage below which the engine counts as stopped",
            default=12.7,
            low=1.0,
            high=100.0,
            bound_reason="vehicles here have between 1 V and 100 V",
            basis="what a full starter battery has at rest, and less when loaded, from memory",
            example="12.7 V",
            shown_unit="V",
        ),
        Parameter(
            "on_delay",
            "time",
            "how long it must stay above `engine_on` before charging begins",
            default=30.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="so that it does not load the battery while cranking, from memory",
            example="30 s",
            shown_unit="s",
        ),
        Parameter(
            "off_delay",
            "time",
            "how long it must stay below `engine_off` before charging ends",
            default=60.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="a minute, from memory",
            example="60 s",
            shown_unit="s",
        ),
        Window(
            "folds",
            "voltage",
            "input voltages between which its limit rises from nothing to all of it",
            default=(12.2, 13.2),
            low=0.5,
            high=100.0,
            bound_reason="vehicles here have between 0.5 V and 100 V",
            basis="begins below `engine_off` and ends at `engine_on`, from memory",
            example="12.2 V .. 13.2 V",
            shown_unit="V",
        ),
        DROOP,
        *STAGE_PARAMETERS,
    )
    terminals = (
        Terminal("vehicle", "the vehicle's battery"),
        Terminal("battery", "the battery that it charges", main=True, gives=True),
    )
    derived = ("fades_below", "droop_ohm", *STAGE_DERIVED)
    pushes = "absorb"
    states = (
        Latch("running", set_after="on_delay", clear_after="off_delay", giving=True),
        *STAGE_STATES,
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Where its idle draw ends, and what the stages need; checks the order of voltages."""
        on, off = float(p["engine_on"]), float(p["engine_off"])
        low, high = float(p["folds_low"]), float(p["folds_high"])
        if on <= off:
            raise ParameterProblem(
                "engine_on",
                f"the engine counts as turning above {on:.4g} V, which is not above the "
                f"{off:.4g} V below which it counts as stopped",
                "about 13.2 V and 12.7 V are usual in a 12 V vehicle",
            )
        if low >= off:
            raise ParameterProblem(
                "folds",
                f"its output ends at {low:.4g} V, so that it would never pull a stopped vehicle "
                f"below the {off:.4g} V at which it ends charging",
                "let the span begin half a volt below `engine_off`",
            )
        if high <= low:
            raise ParameterProblem(
                "folds",
                f"the span from {low:.4g} V to {high:.4g} V is empty",
                "give the voltage with no output first, then that with all of it",
            )
        return {
            "fades_below": IDLE_SHARE * low,
            "droop_ohm": droop_ohm(p, float(p["output_limit"])),
            **stage_values(p, float(p["output_limit"])),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the vehicle and battery terminals [A]."""
        amps = charging_amps(v, x, p)
        watts = np.maximum(v.battery * amps, 0.0) / p.efficiency
        taken = watts / np.maximum(v.vehicle, p.folds_low)
        return taken + constant_current(v.vehicle, p.idle, p.fades_below), -amps

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """The engine turns or has stopped; then the stages."""
        amps = charging_amps(v, x, p)
        spare = where(could_give(v, x, p) > amps, 1.0, 0.0)
        return (
            v.vehicle > p.engine_on,
            v.vehicle < p.engine_off,
            timer_rate(v.battery, x.running, x, p),
            absorption_ends(v.battery, amps, spare, x.running, x, p),
            charging_begins(v.battery, x.running, p),
        )

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Conversion loss, what a reversed output would push in, and idle draw [W]."""
        watts = v.battery * charging_amps(v, x, p)
        lost = np.maximum(watts, 0.0) * (1.0 / p.efficiency - 1.0) + np.maximum(-watts, 0.0)
        return lost + v.vehicle * constant_current(v.vehicle, p.idle, p.fades_below)
