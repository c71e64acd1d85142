"""A lithium iron phosphate battery with its protection board."""

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

REST_CHARGES = (0.0, 0.10, 0.30, 0.60, 0.80, 1.0)
REST_VOLTS = (10.0, 12.8, 13.0, 13.2, 13.3, 13.6)
"""Rest voltage of four cells against charge: common practice, no source; charts differ by
0.15 V."""

WARMTHS_K = (253.15, 263.15, 273.15, 298.15)
AVAILABLE = (0.55, 0.66, 0.80, 1.0)
"""Share of the rated charge that can be drawn at -20, -10, 0 and 25 °C: common practice, no
source; published samples disagree (0.44 to 0.70 at -20 °C)."""

CHEMISTRY = Chemistry(
    cells=Parameter(
        "cells",
        "number",
        "cells in series",
        default=4.0,
        low=1.0,
        high=32.0,
        bound_reason="a battery has between 1 and 32 cells in series",
        whole=True,
        basis="four cells make a 12.8 V battery, the usual one",
        example="4",
    ),
    cutoff_v=2.6,
    wake_v=3.0,
    # The board opens there: from memory.
    highest_v=3.75,
    warmths_k=WARMTHS_K,
    available=AVAILABLE,
    available_words="100 % at 25 degC, 80 % at 0 degC, 66 % at -10 degC, 55 % at -20 degC",
    available_source="common practice, no source",
    efficiency=1.0,
    efficiency_basis="nothing is lost: 99 to 100 % of lithium cells is an energy site's figure",
    self_discharge=0.0,
    self_discharge_basis="none: 1 to 3 % a month, from memory, are little in a run of days",
    examples=("10.4 V", "12 V"),
)


@elementwise
def floor_share(x: Elementwise, p: Elementwise) -> Elementwise:
    """Charge, as a share of the rated one, below which nothing can be drawn at this warmth."""
    return floor_under(table(x.cell, WARMTHS_K, AVAILABLE), p)


@elementwise
def rest_voltage(x: Elementwise, p: Elementwise) -> Elementwise:
    """Open-circuit voltage [V]."""
    return p.cells / 4.0 * table(x.charge, REST_CHARGES, REST_VOLTS)


@elementwise
def inner_ohm(x: Elementwise, p: Elementwise) -> Elementwise:
    """Resistance of cells and board at this warmth and charge [ohm]."""
    warm = p.ohm_warm * towards_empty(x.charge, p)
    return warm * table(x.cell, OHM_WARMTHS_K, OHM_FACTORS)


class LithiumIronPhosphate(Model):
    """A protected pack (`protected_pack`) of lithium iron phosphate cells."""

    interface = 1
    name = "lfp"
    kind = "storage"
    summary = "a lithium iron phosphate battery with its protection board"
    leaves_out = (
        "ageing; the slow part of the voltage's sag and recovery; single cells out of step; its "
        "own warming by use; the cut-off looks at the mean voltage of a step, not at each "
        "key-down; boards that come back "
        "by themselves once the load is gone; a trip by too much current, and how much more than "
        "`charge_limit` it would take from a stiffer battery beside it; a battery that is full "
        "takes nothing, whatever the voltage"
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
        return pack_values(p, CHEMISTRY, float(p["cells"]) / 4.0 * REST_VOLTS[-1])

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
        return p.capacity * p.cells / 4.0 * area_below(charge, REST_CHARGES, REST_VOLTS)
