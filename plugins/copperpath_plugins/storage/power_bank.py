"""A power bank: lithium-ion cells, a charger and a held output in one case, and it falls asleep."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    FloatArray,
    Latch,
    Model,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    between,
    constant_current,
    elementwise,
)
from copperpath_plugins.converters.held_output import FADE_V, fade_in, held_amps
from copperpath_plugins.converters.usb_c_supply import BLEED_S, PROFILE_V
from copperpath_plugins.storage.lithium_ion import (
    CHEMISTRY,
    REST_CELL_V,
    LithiumIon,
    floor_share,
    inner_ohm,
    rest_voltage,
)
from copperpath_plugins.storage.power_bank_parameters import LABEL_CELL_V, PARAMETERS
from copperpath_plugins.storage.protected_pack import (
    PACK_DERIVED,
    PACK_STATES,
    PACK_SUSPECTS,
    pack_amps,
    pack_drive,
    pack_heat,
    pack_rate,
    pack_signals,
    pack_values,
)
from copperpath_plugins.values import given

CHARGER_OHM = 0.02
"""How far its charger's voltage sags for each ampere [ohm]: from memory."""


@elementwise
def cell_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current into its cells [A]."""
    return pack_amps(v.pack, rest_voltage(x, p), inner_ohm(x, p), floor_share(x, p), x, p)


@elementwise
def output_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current given at the output [A]: none asleep, and while charged only if it passes through."""
    through = 1.0 - (1.0 - p.passes) * fade_in(v.in_, p.input_low)
    on = (1.0 - x.asleep) * through * fade_in(v.pack, p.cutoff_voltage)
    return on * held_amps(v.out, p.output_volts, p.output_resistance, p.output_limit)


@elementwise
def charger_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """Current that its charger gives to the cells [A]: no more than the input limit allows."""
    watts = np.maximum(v.in_, 0.0) * fade_in(v.in_, p.input_low) * p.input_limit
    most = p.input_efficiency * watts / np.maximum(v.pack, p.cutoff_voltage - FADE_V)
    return between((p.charged_voltage - v.pack) / CHARGER_OHM, 0.0, most)


@elementwise
def own_amps(v: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """What its electronics take from the cells [A]."""
    return constant_current(v.pack, (1.0 - x.asleep) * p.idle, p.cutoff_voltage)


class PowerBank(Model):
    """The pack of `lithium_ion` on a private node `pack`, between a charger and a held output.

    Its output switches itself off when too little has been drawn for a while, and stays off until
    its button is pressed or it is charged: a tracker or a sleeping radio is then without power,
    however full the cells.
    """

    interface = 1
    name = "power_bank"
    kind = "storage"
    summary = "a power bank with a USB output, which falls asleep when too little is drawn"
    leaves_out = (
        LithiumIon.leaves_out
        + "; that some wake when something is plugged in (give `pressed` for that hour); several "
        "outlets, and the talk by which device and bank agree on a voltage; that too much current "
        "switches the output off (here its voltage falls); how the efficiency falls at a small "
        "output (the idle current stands for it)"
    )
    parameters = PARAMETERS
    terminals = (
        Terminal("out", "its outlet", main=True),
        Terminal("in", "where it is charged", limit="input_high", optional=True),
    )
    inner = ("pack",)
    derived = (
        *PACK_DERIVED,
        "cells",
        "capacity",
        "efficiency",
        "board_current",
        "output_volts",
        "passes",
        "charged_voltage",
    )
    drives = ("around", "unattended")
    pushes = "output_volts"
    states = (*PACK_STATES, Latch("asleep", set_after="sleep_after"))
    suspects = PACK_SUSPECTS

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Its cells by the label, all side by side; their board; the output's voltage."""
        charge, energy = given(p, "rated_charge"), given(p, "rated_energy")
        if (charge is None) == (energy is None):
            raise ParameterProblem(
                "rated_charge",
                "gives neither `rated_charge` nor `rated_energy`"
                if charge is None
                else "gives both `rated_charge` and `rated_energy`",
                "give one of them: its label says `rated_charge 20000 mAh`, at the 3.7 V of its "
                "cells, or `rated_energy 74 Wh`",
            )
        if charge is None:
            assert energy is not None
            charge = energy / LABEL_CELL_V
        cells = {"cells": 1.0, "capacity": charge}
        return {
            **pack_values({**p, **cells}, CHEMISTRY, REST_CELL_V[-1]),
            **cells,
            "efficiency": CHEMISTRY.efficiency,
            "board_current": 0.0,
            "output_volts": PROFILE_V[p["profile"]],
            "passes": 1.0 if p["pass_through"] == "yes" else 0.0,
            "charged_voltage": REST_CELL_V[-1],
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`around`: temperature around it [K]; `unattended`: share of each step in which nobody
        presses its button."""
        return {**pack_drive(site, p), "unattended": site.schedule(p["unattended"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into output, input and the node of its pack [A]."""
        out, charging = output_amps(v, x, p), charger_amps(v, p)
        lowest = p.cutoff_voltage - FADE_V
        drawn = np.maximum(v.out * out, 0.0) / p.output_efficiency / np.maximum(v.pack, lowest)
        taken = np.maximum(v.pack * charging, 0.0) / p.input_efficiency
        return (
            BLEED_S * v.out - out,
            taken / np.maximum(v.in_, p.input_low - FADE_V),
            cell_amps(v, x, p) + drawn + own_amps(v, x, p) - charging,
        )

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """As of any such pack; then it falls asleep, and is woken by its button or a charger."""
        woken = (v.in_ >= p.input_low) | (d.unattended < 1.0)
        left = (v.in_ < p.input_low) & (d.unattended >= 1.0)
        pack = pack_signals(v.pack, cell_amps(v, x, p), floor_share(x, p), d.around, x, p)
        return (*pack, (output_amps(v, x, p) < p.least_current) & left, woken)

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the cells, in charger and output, what a reversed one would push in, bleed and
        idle draw [W]."""
        pack = pack_heat(v.pack, cell_amps(v, x, p), rest_voltage(x, p), inner_ohm(x, p), x, p)
        out, charging = v.out * output_amps(v, x, p), v.pack * charger_amps(v, p)
        lost = np.maximum(out, 0.0) * (1.0 / p.output_efficiency - 1.0) + np.maximum(-out, 0.0)
        lost = lost + np.maximum(charging, 0.0) * (1.0 / p.input_efficiency - 1.0)
        lost = lost + np.maximum(-charging, 0.0)
        return pack + lost + v.pack * own_amps(v, x, p) + BLEED_S * v.out**2

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the cells: rest voltage times what is kept [W]."""
        return rest_voltage(x, p) * pack_rate(cell_amps(v, x, p), x, p) * p.capacity

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached, as a share of the rated one."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    contents = staticmethod(LithiumIon.contents)
