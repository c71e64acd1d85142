"""What a station file may say of a power bank."""

from __future__ import annotations

from copperpath.plugin_api import AnyParameter, Choice, Hours, Parameter, Window
from copperpath_plugins.converters.held_output import output_resistance
from copperpath_plugins.converters.usb_c_supply import PROFILE_V
from copperpath_plugins.storage.lithium_ion import CHEMISTRY
from copperpath_plugins.storage.pack_parameters import pack_parameters

LABEL_CELL_V = 3.7
"""Volts a cell at which the ampere-hours and watt-hours of a label go together: common practice,
no source."""

SAID_OTHERWISE = (
    "cells",
    "capacity",
    "efficiency",
    "charge_limit",
    "cutoff",
    "wake",
    "board_current",
)
"""Entries of a pack for which a power bank has its own words, or which its makers do not tell."""

RATING: tuple[AnyParameter, ...] = (
    Parameter(
        "rated_charge",
        "charge",
        "the ampere-hours of its label, which are those of its cells at 3.7 V: at its output of "
        "5 V there is about two thirds of it; or give `rated_energy`",
        low=0.0,
        low_allowed=False,
        high=3.6e6,
        bound_reason="a power bank without charge gives nothing",
        basis="from `rated_energy`, at 3.7 V a cell, common practice, no source",
        example="20000 mAh",
        shown_unit="mAh",
    ),
    Parameter(
        "rated_energy",
        "energy",
        "the watt-hours of its label, those in its cells; or give `rated_charge`",
        low=0.0,
        low_allowed=False,
        high=1.4e7,
        bound_reason="a power bank without energy gives nothing",
        basis="from `rated_charge`, at 3.7 V a cell, common practice, no source",
        example="74 Wh",
        shown_unit="Wh",
    ),
)
OUTPUT: tuple[AnyParameter, ...] = (
    Choice(
        "profile",
        tuple(PROFILE_V),
        "the voltage of its output: plain USB, or what the device has chosen on USB-C",
        default="five_volts",
        basis="plain USB",
    ),
    Parameter(
        "output_limit",
        "current",
        "the most it gives at its output",
        default=2.4,
        low=0.0,
        low_allowed=False,
        high=10.0,
        bound_reason="outlets of this kind give up to 10 A",
        basis="2.4 A at 5 V is common practice, no source",
        example="2.4 A",
        shown_unit="A",
    ),
    Parameter(
        "output_efficiency",
        "share",
        "output power as a share of what its cells give, idle current aside",
        default=0.88,
        low=0.3,
        high=1.0,
        bound_reason="a converter gives less than it takes",
        basis="0.82 to 0.92 for small converters is common practice, no source",
        example="88 %",
        shown_unit="%",
    ),
    output_resistance(basis="plug and socket, from memory", default=0.05, example="50 mohm"),
    Parameter(
        "least_current",
        "current",
        "what must be drawn at its output to keep it awake; 0 for one that never sleeps",
        default=0.060,
        low=0.0,
        high=1.0,
        bound_reason="power banks stay awake from some current below 1 A on",
        basis="50 to 100 mA, from memory",
        example="60 mA",
        shown_unit="mA",
    ),
    Parameter(
        "sleep_after",
        "time",
        "how long less than that must be drawn before it switches its output off",
        default=30.0,
        low=0.0,
        bound_reason="a delay is not negative",
        basis="10 s to a minute, from memory",
        example="30 s",
        shown_unit="s",
    ),
    Hours(
        "unattended",
        "when nobody presses its button; say `pressed` for the times at which somebody does, "
        "which wakes it",
        inverse="pressed",
    ),
    Parameter(
        "idle",
        "current",
        "what its electronics take from the cells while awake",
        default=0.010,
        low=0.0,
        high=1.0,
        bound_reason="electronics take current, they do not give any",
        basis="5 to 30 mA is common practice for small converters, no source",
        example="10 mA",
        shown_unit="mA",
    ),
)
INPUT: tuple[AnyParameter, ...] = (
    Parameter(
        "input_limit",
        "current",
        "the most it takes at its input while it is charged",
        default=2.0,
        low=0.0,
        high=10.0,
        bound_reason="inputs of this kind take up to 10 A",
        basis="2 A at 5 V is common practice, no source",
        example="2 A",
        shown_unit="A",
    ),
    Window(
        "input",
        "voltage",
        "the voltages at its input between which it is charged",
        default=(4.4, 5.5),
        low=1.0,
        high=30.0,
        bound_reason="power banks are charged from between 1 V and 30 V",
        basis="plain USB: 5 V less its cable's drop, from memory",
        example="4.4 V .. 5.5 V",
        shown_unit="V",
    ),
    Parameter(
        "input_efficiency",
        "share",
        "what reaches its cells as a share of the power at its input",
        default=0.90,
        low=0.3,
        high=1.0,
        bound_reason="a converter gives less than it takes",
        basis="0.87 to 0.92 between half and full output is common practice, no source",
        example="90 %",
        shown_unit="%",
    ),
    Choice(
        "pass_through",
        ("no", "yes"),
        "whether its output gives anything while it is charged",
        default="no",
        basis="many switch their output off while they are charged, from memory; so the unkind "
        "guess",
    ),
)
PARAMETERS: tuple[AnyParameter, ...] = (
    *RATING,
    *OUTPUT,
    *INPUT,
    *(each for each in pack_parameters(CHEMISTRY) if each.name not in SAID_OTHERWISE),
)
