"""A lithium-ion battery of nickel-manganese-cobalt cells with its protection board."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import Elementwise, Model, Parameter, Values, elementwise, table
from copperpath_plugins.storage.pack_parameters import Chemistry, pack_parameters
from copperpath_plugins.storage.protected_pack import (
    OHM_FACTORS,
    OHM_WARMTHS_K,
    PACK_DERIVED,
    PACK_STATES,
    PACK_SUSPECTS,
    PACK_TERMINALS,
    pack_amps,
    pack_drive,
    pack_heat,
    pack_rate,
    pack_signals,
    pack_values,
)
from copperpath_plugins.storage.resistance_by_charge import towards_empty
from copperpath_plugins.storage.rest_curve import area_below
from copperpath_plugins.storage.usable_charge import floor_under

REST_CHARGES = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
REST_CELL_V = (
    2.5,
    3.2959,
    3.4852,
    3.5814,
    3.667,
    3.7509,
    3.8406,
    3.9479,
    4.0421,
    4.0967,
    4.2,
)
"""Rest voltage of a cell against charge at 25 °C: nickel-manganese-cobalt 811 against graphite
with silicon, computed from the parameter set of C.-H. Chen and others, Journal of the
Electrochemical Society 167 (2020) 080534. Straight lines between, a little low near empty."""

WARMTHS_K = (253.15, 263.15, 273.15, 298.15)
AVAILABLE = (0.60, 0.75, 0.85, 1.0)
"""Share of the rated charge that can be drawn at -20, -10, 0 and 25 °C: from memory."""

CHEMISTRY = Chemistry(
    cells=Parameter(
        "cells",
        "number",
        "cells in series: three make 10.8 V and 12.6 V full, four 14.4 V and 16.8 V full",
        required=True,
        low=1.0,
        high=28.0,
        bound_reason="a battery has between 1 and 28 cells in series",
        whole=True,
        example="3",
    ),
    cutoff_v=2.8,
    wake_v=3.0,
    # Charged to 4.2 V; the board opens a little above: from memory.
    highest_v=4.28,
    warmths_k=WARMTHS_K,
    available=AVAILABLE,
    available_words="100 % at 25 degC, 85 % at 0 degC, 75 % at -10 degC, 60 % at -20 degC",
    available_source="from memory",
    efficiency=0.995,
    efficiency_basis="99 to 100 % by an energy site, a weak source",
    self_discharge=0.02,
    self_discharge_basis="1 to 3 % a month, from memory",
    examples=("8.4 V", "9 V"),
)


@elementwise
def floor_share(x: Elementwise, p: Elementwise) -> Elementwise:
    """Charge, as a share of the rated one, below which nothing can be drawn at this warmth."""
    return floor_under(table(x.cell, WARMTHS_K, AVAILABLE), p)


@elementwise
def rest_voltage(x: Elementwise, p: Elementwise) -> Elementwise:
    """Open-circuit voltage [V]."""
    return p.cells * table(x.charge, REST_CHARGES, REST_CELL_V)


@elementwise
def inner_ohm(x: Elementwise, p: Elementwise) -> Elementwise:
    """Resistance of cells and board at this warmth and charge [ohm]."""
    warm = p.ohm_warm * towards_empty(x.charge, p)
    return warm * table(x.cell, OHM_WARMTHS_K, OHM_FACTORS)


class LithiumIon(Model):
    """A protected pack (`protected_pack`) of cells whose voltage slopes with the charge."""

    interface = 1
    name = "lithium_ion"
    kind = "storage"
    summary = "a lithium-ion battery (nickel-manganese-cobalt, 3.6 V a cell) with its board"
    leaves_out = (
        "ageing, fast when kept full and warm; cells of cobalt or nickel-cobalt-aluminium oxide, "
        "whose curves differ by about 0.1 V; the "
        "slow part of the voltage's sag and recovery; single cells out of step; its own warming by "
        "use; the cut-off looks at the mean voltage of a step, not at each key-down; boards that "
        "come back by themselves once the load is gone; a trip by too much current, and how much "
        "more than `charge_limit` it would take from a stiffer battery beside it; a battery that "
        "is full takes nothing, whatever the voltage"
    )
    parameters = pack_parameters(CHEMISTRY)
    terminals = PACK_TERMINALS
    derived = PACK_DERIVED
    drives = ("around",)
    pushes = "full_voltage"
    states = PACK_STATES
    suspects = PACK_SUSPECTS
    drive = staticmethod(pack_drive)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Defaults that depend on capacity and cells, and the charge planned as the lowest."""
        return pack_values(p, CHEMISTRY, float(p["cells"]) * REST_CELL_V[-1])

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the battery [A]."""
        rest, ohm, floor = rest_voltage(x, p), inner_ohm(x, p), floor_share(x, p)
        return (pack_amps(v.line, rest, ohm, floor, x, p),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of charge, temperature around, then set and clear of `cold`, `empty`, `locked`."""
        return pack_signals(v.line, i[0], floor_share(x, p), d.around, x, p)

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in the resistance, in the taper, and charge that is not kept [W]."""
        return pack_heat(v.line, i[0], rest_voltage(x, p), inner_ohm(x, p), x, p)

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the store: rest voltage times what is kept [W]."""
        return rest_voltage(x, p) * pack_rate(i[0], x, p) * p.capacity

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached, as a share of the rated one."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        """Energy held at a charge [J]: the area under the rest voltage over charge."""
        return p.capacity * p.cells * area_below(charge, REST_CHARGES, REST_CELL_V)
