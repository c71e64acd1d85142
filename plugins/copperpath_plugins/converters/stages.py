"""The stages of charging that several chargers share: bulk, absorption, float, and bulk again.

In bulk and absorption the charger aims at `absorb`; a timer counts while the battery side stands
there. The stage ends when the timer is full or the current stays below `tail` for `tail_for`; then
the charger aims at `float`, until the battery side has stayed below `rebulk` for `rebulk_for`, or
the charger has been without power for as long. With `profile lithium` it never leaves `absorb`.
"""

from __future__ import annotations

from copperpath.plugin_api import (
    Accumulator,
    AnyParameter,
    Choice,
    Elementwise,
    Latch,
    Parameter,
    ParameterProblem,
    State,
    Values,
    between,
    elementwise,
    where,
)
from copperpath_plugins.values import given

NEAR_SHARE = 0.98
"""The battery side counts as at the absorption voltage from this share of it: a choice, 0.29 V
below 14.4 V, more than a droop of 20 mohm at 10 A."""

FORGETS_S = 60.0
"""How long a timer takes to go back to nothing: a choice."""

TAIL_SHARE = 0.05
"""Tail current as a share of the charger's limit where none is given: from memory."""

DROOP_V = 0.2
"""How far the output stands under its set voltage at the limit where no droop is given: from
memory."""

DROOP = Parameter(
    "droop",
    "resistance",
    "how far its output stands under the charging voltage for each ampere; 0.2 V at its limit if "
    "not given (from memory)",
    low=0.0005,
    high=1.0,
    bound_reason="an output sags by between 0.5 mV and 1 V for each ampere",
    basis="0.2 V at its limit, from memory",
    example="20 mohm",
    shown_unit="mohm",
)

LEAD_ACID = ("profile", "lead_acid")
"""The choice with which alone the stages count."""

STAGE_PARAMETERS: tuple[AnyParameter, ...] = (
    Choice(
        "profile",
        ("lithium", "lead_acid"),
        "lithium: holds `absorb` all the time; lead_acid: absorption ends by time or tail current, "
        "then it holds `float`",
        default="lithium",
        basis="the battery that these stations have most often",
    ),
    Parameter(
        "absorb",
        "voltage",
        "the voltage it charges up to",
        default=14.4,
        low=1.0,
        high=100.0,
        bound_reason="batteries here are charged to between 1 V and 100 V",
        basis="3.6 V a cell, four lithium iron phosphate cells, common practice, no source",
        example="14.4 V",
        shown_unit="V",
    ),
    Parameter(
        "float",
        "voltage",
        "the voltage it holds once absorption is over (lead_acid only)",
        default=13.6,
        low=1.0,
        high=100.0,
        bound_reason="batteries here are charged to between 1 V and 100 V",
        basis="13.6 V for 12 V agm batteries is common practice, no source",
        example="13.6 V",
        shown_unit="V",
        only_with=LEAD_ACID,
    ),
    Parameter(
        "absorb_for",
        "time",
        "how long it holds `absorb` at the most (lead_acid only)",
        default=7200.0,
        low=60.0,
        high=172_800.0,
        bound_reason="absorption lasts between a minute and two days",
        basis="2 h, from memory",
        example="2 h",
        shown_unit="h",
        only_with=LEAD_ACID,
    ),
    Parameter(
        "tail",
        "current",
        "its output below which the battery counts as full (lead_acid only); a twentieth of its "
        "limit if not given (from memory)",
        low=0.0,
        bound_reason="a charger gives current, it does not take any",
        basis="a twentieth of its limit, from memory",
        example="1 A",
        shown_unit="A",
        only_with=LEAD_ACID,
    ),
    Parameter(
        "tail_for",
        "time",
        "how long its output must stay below `tail` (lead_acid only)",
        default=300.0,
        low=0.0,
        bound_reason="a delay is not negative",
        basis="5 min, from memory",
        example="5 min",
        shown_unit="min",
        only_with=LEAD_ACID,
    ),
    Parameter(
        "rebulk",
        "voltage",
        "battery side below which charging begins anew (lead_acid only)",
        default=12.8,
        low=1.0,
        high=100.0,
        bound_reason="batteries here are charged to between 1 V and 100 V",
        basis="0.8 V under float, from memory",
        example="12.8 V",
        shown_unit="V",
        only_with=LEAD_ACID,
    ),
    Parameter(
        "rebulk_for",
        "time",
        "how long it must stay below `rebulk`, or without power (lead_acid only)",
        default=600.0,
        low=0.0,
        bound_reason="a delay is not negative",
        basis="10 min, from memory",
        example="10 min",
        shown_unit="min",
        only_with=LEAD_ACID,
    ),
)
STAGE_DERIVED = ("stages", "tail_amps", "timer_at_start")
STAGE_STATES: tuple[State, ...] = (
    Accumulator("absorbed", "timer_at_start"),
    Latch("floating", set_after="tail_for", clear_after="rebulk_for"),
)


def stage_values(p: Values, limit_a: float) -> dict[str, float]:
    """Values for `STAGE_DERIVED`.

    Raises
    ------
    ParameterProblem
        If the stages are not in order.
    """
    absorb, hold, again = float(p["absorb"]), float(p["float"]), float(p["rebulk"])
    stages = p["profile"] == "lead_acid"
    if stages and hold >= absorb:
        raise ParameterProblem(
            "float",
            f"holds {hold:.4g} V after charging to {absorb:.4g} V, which is not less",
            "float lies about 0.8 V under the charging voltage of a 12 V battery",
        )
    if stages and again >= hold:
        raise ParameterProblem(
            "rebulk",
            f"begins anew below {again:.4g} V, which it never exceeds while it holds {hold:.4g} V",
            f"about {hold - 0.8:.4g} V would be usual",
        )
    tail = given(p, "tail")
    return {
        "stages": float(stages),
        "tail_amps": TAIL_SHARE * limit_a if tail is None else tail,
        "timer_at_start": 0.0,
    }


def droop_ohm(p: Values, limit_a: float) -> float:
    """How far the output stands under its set voltage for each ampere [ohm]."""
    droop = given(p, "droop")
    return DROOP_V / limit_a if droop is None else droop


@elementwise
def aim_voltage(x: Elementwise, p: Elementwise) -> Elementwise:
    """The voltage it charges to in its stage [V]."""
    return p.absorb + p.stages * x.floating * (p.float - p.absorb)


@elementwise
def wanted_share(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """How much of its limit the set voltage still asks for, 0 to 1."""
    return between((aim_voltage(x, p) - v.battery) / (p.droop_ohm * p.output_limit), 0.0, 1.0)


@elementwise
def timer_rate(
    battery: Elementwise, works: Elementwise, x: Elementwise, p: Elementwise
) -> Elementwise:
    """Share of the absorption time that passes [1/s]; backwards when it is over or the charger
    has no power (`works` 0 or 1)."""
    counts = p.stages * where(battery > NEAR_SHARE * p.absorb, 1.0, 0.0) / p.absorb_for
    over = (x.floating > 0.5) | (works < 0.5)
    return where(over, -p.stages / FORGETS_S, counts)


@elementwise
def absorption_ends(
    battery: Elementwise,
    amps: Elementwise,
    spare: Elementwise,
    works: Elementwise,
    x: Elementwise,
    p: Elementwise,
) -> Elementwise:
    """True while the battery counts as full: the timer is, or the current is small although the
    charger could give more (`spare`, 0 or 1)."""
    small = (battery > NEAR_SHARE * p.absorb) & (amps < p.tail_amps) & (spare > 0.5)
    return (p.stages > 0.5) & (works > 0.5) & ((x.absorbed >= 1.0) | small)


@elementwise
def charging_begins(battery: Elementwise, works: Elementwise, p: Elementwise) -> Elementwise:
    """True while the battery has sagged, or the charger is without power."""
    return (battery < p.rebulk) | (works < 0.5)
