"""A lithium iron phosphate battery by its own discharge curves."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Elementwise,
    Lag,
    Model,
    Parameter,
    Values,
    elementwise,
)
from copperpath_plugins.storage.lfp import (
    CHEMISTRY,
    REST_CHARGES,
    REST_VOLTS,
    LithiumIronPhosphate,
    floor_share,
    inner_ohm,
)
from copperpath_plugins.storage.measured_curve import (
    CURVE_DERIVED,
    curve_area,
    curve_at,
    curve_parameters,
    curve_values,
)
from copperpath_plugins.storage.pack_parameters import pack_parameters
from copperpath_plugins.storage.protected_pack import (
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
from copperpath_plugins.storage.two_wells import available_head, flow_between, gap_target

REST_CELL_V = tuple(volts / 4.0 for volts in REST_VOLTS)

AT_ONCE = 0.5
"""Share of the charge that stands at the surface of its cells: a choice, which makes `spread` the
time by which a steady current runs ahead of the charge."""


@elementwise
def surface_charge(x: Elementwise) -> Elementwise:
    """Charge that its voltage goes by."""
    return available_head(x.charge, x.gap, AT_ONCE)


@elementwise
def rest_voltage(level: Elementwise, p: Elementwise) -> Elementwise:
    """Rest voltage of the battery [V]."""
    return p.cells * curve_at(level, p)


@elementwise
def spread_watts(x: Elementwise, p: Elementwise) -> Elementwise:
    """What charge loses on its way from the inside of the cells to their surface [W]."""
    surface = surface_charge(x)
    fall = rest_voltage(surface + x.gap, p) - rest_voltage(surface, p)
    return flow_between(x.gap, AT_ONCE, p.spread) * p.capacity * fall


class MeasuredLfp(Model):
    """The pack of `lfp` with a rest voltage of one's own, and with charge that takes time to spread
    in the cells (`two_wells`): after `spread` of a steady current its voltage is that of a battery
    emptier by the charge of so long a time.
    """

    interface = 1
    name = "lfp_measured"
    kind = "storage"
    summary = "a lithium iron phosphate battery by its own discharge curves"
    leaves_out = LithiumIronPhosphate.leaves_out.replace(
        "the slow part of the voltage's sag and recovery",
        "sag and recovery slower or faster than `spread`",
    )
    parameters = (
        *pack_parameters(CHEMISTRY),
        *curve_parameters(REST_CHARGES, REST_CELL_V, "as `lfp` rests: common practice, no source"),
        Parameter(
            "spread",
            "time",
            "how long charge takes to spread in its cells: at a steady current its voltage is "
            "that of a battery that has lost the charge of so much longer",
            default=600.0,
            low=1.0,
            high=36_000.0,
            bound_reason="charge spreads within a second to ten hours",
            basis="fits discharges over 20 h and 1 h computed from the parameter set of Prada and "
            "others, J. Electrochem. Soc. 160 (2013) A616",
            example="10 min",
            shown_unit="min",
        ),
    )
    terminals = PACK_TERMINALS
    derived = (*PACK_DERIVED, *CURVE_DERIVED, "gap_at_start")
    drives = ("around",)
    pushes = "full_voltage"
    states = (*PACK_STATES, Lag("gap", tau="spread", initial="gap_at_start"))
    suspects = PACK_SUSPECTS
    drive = staticmethod(pack_drive)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """The curve, and what follows from it for the board."""
        curve = curve_values(p, REST_CHARGES, REST_CELL_V)
        full = float(p["cells"]) * curve[CURVE_DERIVED[-1]]
        return {**pack_values(p, CHEMISTRY, full), **curve, "gap_at_start": 0.0}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the battery [A]."""
        rest, ohm, floor = rest_voltage(surface_charge(x), p), inner_ohm(x, p), floor_share(x, p)
        return (pack_amps(v.line, rest, ohm, floor, x, p),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of charge, temperature around, `cold`, `empty`, `locked`; where the gap goes."""
        signals = pack_signals(v.line, i[0], floor_share(x, p), d.around, x, p)
        return (*signals, gap_target(-pack_rate(i[0], x, p), AT_ONCE, p.spread))

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """As of any such pack, and what is lost while charge spreads [W]."""
        rest = rest_voltage(surface_charge(x), p)
        return pack_heat(v.line, i[0], rest, inner_ohm(x, p), x, p) + spread_watts(x, p)

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the store: rest voltage of inside and surface times what each keeps [W]."""
        kept = pack_rate(i[0], x, p) * p.capacity
        return rest_voltage(surface_charge(x), p) * kept - spread_watts(x, p)

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached, as a share of the rated one."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        """Energy held at rest at a charge [J]: the area under the rest voltage over charge."""
        return p.capacity * p.cells * curve_area(charge, p)
