"""A small generator with a tank, started by a battery's voltage or by the hour."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Elementwise,
    FloatArray,
    Hours,
    Latch,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    between,
    elementwise,
    where,
)
from copperpath_plugins.sources.fuel_tank import DRY, FILLED, FUEL, ran_out
from copperpath_plugins.values import given

SAG_SHARE = 0.03
"""How far its voltage falls at its rated power, as a share: from memory."""

LOST_PER_M = 0.035 / 300.0
"""Share of its power that an engine without a turbocharger loses for each metre above the sea,
3.5 % for 300 m: from memory."""

WHOLE = 1.0 - 1e-9
"""Share of its least time from which it counts as passed: what rounding leaves of 1."""

LITRES_AN_HOUR = 3.6e6
LITRES_A_KILOWATT_HOUR = 3.6e9
"""In one m³/s and one m³/J."""

RESTS_S = 1e-3
"""How long it takes to forget how long it has run: less than any step."""


@elementwise
def turning(x: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """Share of the step for which it runs: called or not yet warm, in its hours, with fuel."""
    unfinished = (x.ran > 0.0) & (x.ran < WHOLE)
    wanted = (p.by_voltage < 0.5) | (x.called > 0.5) | unfinished
    return d.allowed * where(wanted & (x.fuel > 0.0), 1.0, 0.0)


@elementwise
def output_amps(v: Elementwise, x: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """Current given [A], in phase."""
    return turning(x, d, p) * between((p.voltage - v.output) / p.output_ohm, 0.0, p.most_amps)


class Generator(Model):
    """Mains voltage with a small sag up to the rated power; litres an hour = a + b kW.

    With `start_below` it is called when the sensed voltage has been low, until it has been above
    `stop_above`; once started it runs for `least_run` at the least. It runs within the hours of
    `on` only. Without `start_below` it runs through those hours. An empty tank ends either.
    """

    name = "generator"
    kind = "source"
    interface = 1
    summary = "a small generator with a tank, started by a battery's voltage or by the hour"
    leaves_out = (
        "current out of phase and its peaks; that it stalls or trips when overloaded (here its "
        "voltage falls); less power in the heat, and by height where `altitude` is not given; "
        "warming up, wear, filling the tank; where its exhaust goes: outdoors, six metres from any "
        "opening"
    )
    parameters = (
        Parameter(
            "rating",
            "power",
            "the most it gives for hours",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1e5,
            bound_reason="generators here give up to 100 kW",
            example="1 kW",
            shown_unit="W",
        ),
        Parameter(
            "voltage",
            "voltage",
            "the voltage it gives at no load",
            default=230.0,
            low=50.0,
            high=300.0,
            bound_reason="mains voltages lie between 50 V and 300 V",
            basis="230 V, as in most of the world",
            example="230 V",
            shown_unit="V",
        ),
        Parameter(
            "altitude",
            "length",
            "height above the sea at which it runs; it gives 3.5 % less of `rating` for each 300 m",
            low=-430.0,
            high=6000.0,
            bound_reason="sites lie between 430 m below and 6000 m above the sea",
            basis="none: all of `rating`",
            example="800 m",
            shown_unit="m",
        ),
        Hours("on", "the hours in which it may run", inverse="off"),
        Parameter(
            "start_below",
            "voltage",
            "it starts when the sensed voltage has been below this; if not given it runs by the "
            "hour alone",
            low=1.0,
            high=100.0,
            bound_reason="batteries here have between 1 V and 100 V",
            basis="none: it runs in the hours of `on`",
            example="12 V",
            shown_unit="V",
        ),
        Parameter(
            "stop_above",
            "voltage",
            "it stops when the sensed voltage has been above this",
            default=14.2,
            low=1.0,
            high=100.0,
            bound_reason="batteries here are charged to between 1 V and 100 V",
            basis="just under a charging voltage of 14.4 V, from memory",
            example="14.2 V",
            shown_unit="V",
        ),
        Parameter(
            "start_delay",
            "time",
            "how long the voltage must stay below `start_below`",
            default=300.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="so that a few overs do not start it, from memory",
            example="5 min",
            shown_unit="min",
        ),
        Parameter(
            "stop_delay",
            "time",
            "how long the voltage must stay above `stop_above`",
            default=1800.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="half an hour of absorption, from memory",
            example="30 min",
            shown_unit="min",
        ),
        Parameter(
            "least_run",
            "time",
            "how long it runs at the least once a low voltage has started it",
            default=1800.0,
            low=0.0,
            bound_reason="a time is not negative",
            basis="so that it gets warm, from memory",
            example="30 min",
            shown_unit="min",
        ),
        Parameter(
            "tank",
            "volume",
            "what its tank holds",
            default=3e-3,
            low=0.0,
            low_allowed=False,
            high=10.0,
            bound_reason="tanks hold up to 10 000 litres",
            basis="2 to 4 litres for generators that are carried, from memory",
            example="3 L",
            shown_unit="L",
        ),
        FILLED,
        Parameter(
            "fuel_idle",
            "flow",
            "what it burns without any load",
            default=0.2 / LITRES_AN_HOUR,
            low=0.0,
            high=100.0 / LITRES_AN_HOUR,
            bound_reason="engines here burn up to 100 litres an hour",
            basis="0.15 to 0.3 for small generators with an inverter, common practice, no source",
            example="0.2 L/h",
            shown_unit="L/h",
        ),
        Parameter(
            "fuel_per_kilowatt",
            "volume_per_energy",
            "what it burns more for what it gives",
            default=0.5 / LITRES_A_KILOWATT_HOUR,
            low=0.0,
            high=10.0 / LITRES_A_KILOWATT_HOUR,
            bound_reason="engines burn up to 10 litres an hour for a kilowatt",
            basis="0.4 to 0.5 for small generators with an inverter, common practice, no source",
            example="0.5 L/kWh",
            shown_unit="L/kWh",
        ),
    )
    terminals = (
        Terminal("output", "its socket", main=True, gives=True, alternating=True),
        Terminal("sense", "the battery whose voltage it watches; draws nothing"),
    )
    derived = ("output_ohm", "most_amps", "by_voltage", "start_voltage", "ran_at_start")
    drives = ("allowed",)
    pushes = "voltage"
    states = (
        Latch("called", set_after="start_delay", clear_after="stop_delay", giving=True),
        Accumulator("ran", "ran_at_start"),
        FUEL,
        DRY,
    )
    suspects = (ran_out("generator"),)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Sag and limit from the rating; whether a voltage starts it."""
        rating, volts, starts = float(p["rating"]), float(p["voltage"]), given(p, "start_below")
        if starts is not None and float(p["stop_above"]) <= starts:
            raise ParameterProblem(
                "stop_above",
                f"stops above {float(p['stop_above']):.4g} V, which is not above the "
                f"{starts:.4g} V below which it starts",
                "it stops near the charging voltage, 14.2 V for a 12 V battery",
            )
        left = 1.0 - LOST_PER_M * max(given(p, "altitude") or 0.0, 0.0)
        return {
            "output_ohm": SAG_SHARE * volts**2 / rating,
            "most_amps": rating * left / volts,
            "by_voltage": float(starts is not None),
            "start_voltage": 0.0 if starts is None else starts,
            "ran_at_start": 0.0,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`allowed`: share of each step in which it may run."""
        return {"allowed": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the output and sense terminals [A]; none at the latter."""
        return -output_amps(v, x, d, p), 0.0 * v.sense

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `called`, rates of `ran` and `fuel`, set and clear of `dry`."""
        by_voltage, on = p.by_voltage > 0.5, turning(x, d, p)
        burnt = p.fuel_idle * on + p.fuel_per_kilowatt * v.output * output_amps(v, x, d, p)
        ran = where(on > 0.0, on / np.maximum(p.least_run, 1.0), -1.0 / RESTS_S)
        return (
            by_voltage & (v.sense < p.start_voltage),
            by_voltage & (v.sense > p.stop_above),
            where(by_voltage, ran, 0.0),
            -np.maximum(burnt, 0.0) / p.tank,
            x.fuel <= 0.0,
            x.fuel > 0.0,
        )
