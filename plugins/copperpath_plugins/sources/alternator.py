"""A vehicle's alternator, idling or on the road, with a plain or a smart regulator."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    ShareByHour,
    Surroundings,
    Terminal,
    Values,
    elementwise,
)
from copperpath_plugins.converters.held_output import held_amps
from copperpath_plugins.sources.power_output import BLEED_S
from copperpath_plugins.sources.supply import DROOP_V
from copperpath_plugins.values import given

IDLE_SHARE = 0.4
"""Middle of 30 to 50 % of the current on the road: common practice, no source."""

WARM_K = 298.15


@elementwise
def engine_amps(
    volts: Elementwise, held: Elementwise, d: Elementwise, p: Elementwise
) -> Elementwise:
    """Mean current at a regulated voltage over the engine's time at idle and on the road [A]."""
    at_idle = held_amps(volts, held, p.droop_ohm, d.hot * p.idle_amps)
    on_road = held_amps(volts, held, p.droop_ohm, d.hot * p.running_current)
    return (1.0 - d.driving) * at_idle + d.driving * on_road


class Alternator(Model):
    """Its voltage behind a small droop up to a limit, which is lower at idle; nothing when the
    engine stands."""

    name = "alternator"
    kind = "source"
    interface = 1
    summary = "a vehicle's alternator: less at idle, nothing with the engine off"
    leaves_out = (
        "the fuel and the engine's own needs (give currents that are left at the battery); the "
        "dip to 6 to 9 V while the starter turns, in which radios on the starter battery drop out; "
        "surges when a battery is taken off while it charges; a regulator that follows warmth; "
        "shares of time are averaged within a step. Exhaust: outdoors, six metres from any opening"
    )
    parameters = (
        Parameter(
            "voltage",
            "voltage",
            "the voltage that its regulator holds at no load",
            default=14.2,
            low=5.0,
            high=60.0,
            bound_reason="vehicles here have between 5 V and 60 V",
            basis="13.2 to 14.8 V, common practice, no source",
            example="14.2 V",
            shown_unit="V",
        ),
        Parameter(
            "running_current",
            "current",
            "what is left for you on the road, beside the engine's own needs",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1000.0,
            bound_reason="alternators here give up to 1000 A",
            example="70 A",
            shown_unit="A",
        ),
        Parameter(
            "idle_current",
            "current",
            "the same at idle; 40 % of it if not given (30 to 50 %, common practice, no source)",
            low=0.0,
            high=1000.0,
            bound_reason="alternators here give up to 1000 A",
            basis="40 % of `running_current`, common practice, no source",
            example="28 A",
            shown_unit="A",
        ),
        Hours("on", "when the engine runs; always if not given", inverse="off"),
        ShareByHour(
            "driving",
            "share of the engine's time on the road, the rest at idle",
            default=0.0,
            basis="at idle, as at a post",
            example="100 % from 07:00 to 08:00, otherwise 0 %",
        ),
        ShareByHour(
            "eased",
            "share of the engine's time in which a smart regulator holds `eased_voltage`",
            default=0.0,
            basis="a plain regulator",
            example="70 %",
        ),
        Parameter(
            "eased_voltage",
            "voltage",
            "the voltage that a smart regulator falls to when it spares the engine; counts with "
            "`eased` alone",
            low=5.0,
            high=60.0,
            bound_reason="vehicles here have between 5 V and 60 V",
            basis="12.4 V on 14.2 V; 12.3 to 12.6 V, common practice, no source",
            example="12.4 V",
            shown_unit="V",
        ),
        Parameter(
            "current_coefficient",
            "share_per_kelvin",
            "change of its currents with the air's warmth, from 25 degC; none if not given",
            low=-0.02,
            high=0.0,
            bound_reason="a hot alternator gives less, by under 2 % a kelvin",
            basis="none: currents as measured warm; copper alone makes -0.4 %/K",
            example="-0.30 %/K",
            shown_unit="%/K",
        ),
    )
    terminals = (Terminal("line", "its stud, at the starter battery", main=True),)
    derived = ("idle_amps", "low_voltage", "droop_ohm", "per_kelvin")
    drives = ("runs", "driving", "eased", "hot")
    pushes = "voltage"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """What is not given, from what is."""
        running, idle = float(p["running_current"]), given(p, "idle_current")
        volts, low = float(p["voltage"]), given(p, "eased_voltage")
        if idle is not None and idle > running:
            raise ParameterProblem(
                "idle_current",
                f"{idle:.4g} A at idle is more than the {running:.4g} A on the road",
                "at idle it gives 30 to 50 % of that",
            )
        if low is not None and low > volts:
            raise ParameterProblem(
                "eased_voltage",
                f"{low:.4g} V is above the {volts:.4g} V that it holds otherwise",
                "a smart regulator falls to 12.3 to 12.6 V in a 12 V vehicle",
            )
        return {
            "idle_amps": IDLE_SHARE * running if idle is None else idle,
            "low_voltage": volts * 12.4 / 14.2 if low is None else low,
            "droop_ohm": DROOP_V / running,
            "per_kelvin": given(p, "current_coefficient") or 0.0,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """Shares of each step with the engine on, driving and eased; what warmth leaves."""
        return {
            "runs": site.schedule(p["on"]),
            "driving": site.schedule(p["driving"]),
            "eased": site.schedule(p["eased"]),
            "hot": np.maximum(1.0 + p["per_kelvin"] * (site.air_k - WARM_K), 0.0),
        }

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into its stud [A]."""
        full = engine_amps(v.line, p.voltage, d, p)
        low = engine_amps(v.line, p.low_voltage, d, p)
        return (BLEED_S * v.line - d.runs * ((1.0 - d.eased) * full + d.eased * low),)
