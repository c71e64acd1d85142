"""A lithium iron phosphate battery with heater pads under its cells."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from copperpath.plugin_api import Elementwise, Lag, Model, Values, elementwise
from copperpath_plugins.storage.heater_pads import (
    PAD_DERIVED,
    PAD_PARAMETERS,
    PAD_STATES,
    pad_amps,
    pad_signals,
    pad_values,
    warmed,
)
from copperpath_plugins.storage.lfp import (
    CHEMISTRY,
    LithiumIronPhosphate,
    floor_share,
    inner_ohm,
    rest_voltage,
)
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
)


@elementwise
def cell_amps(volts: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Current into the cells, the pads aside [A]."""
    return pack_amps(volts, rest_voltage(x, p), inner_ohm(x, p), floor_share(x, p), x, p)


@elementwise
def lost_watts(volts: Elementwise, x: Elementwise, p: Elementwise) -> Elementwise:
    """Heat in cells, board and pads [W]."""
    amps = cell_amps(volts, x, p)
    inside = pack_heat(volts, amps, rest_voltage(x, p), inner_ohm(x, p), x, p)
    return inside + pad_amps(volts, x, p) * volts


class HeatedLfp(Model):
    """The pack of `lfp` in a case that holds its warmth, with pads (`heater_pads`)."""

    interface = 1
    name = "lfp_heated"
    kind = "storage"
    summary = "a lithium iron phosphate battery kept warm by heater pads, on surplus sun or always"
    leaves_out = (
        LithiumIronPhosphate.leaves_out.replace("its own warming by use; ", "")
        + "; differences of warmth between its cells, pads and case; what relay and thermostat draw"
    )
    parameters = (*LithiumIronPhosphate.parameters, *PAD_PARAMETERS)
    terminals = PACK_TERMINALS
    derived = (*PACK_DERIVED, *PAD_DERIVED)
    drives = ("around",)
    pushes = "full_voltage"
    states = (
        *(
            replace(state, tau="cell_tau") if isinstance(state, Lag) else state
            for state in PACK_STATES
        ),
        *PAD_STATES,
    )
    suspects = PACK_SUSPECTS
    drive = staticmethod(pack_drive)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """As `lfp`, and what the pads need."""
        pack = LithiumIronPhosphate.derive(p)
        return {**pack, **pad_values(p, CHEMISTRY.highest_v * float(p["cells"]))}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the battery, its pads with it [A]."""
        return (cell_amps(v.line, x, p) + pad_amps(v.line, x, p),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """As of any such pack, its cells warmed by all that turns to heat; then the pads."""
        around = warmed(d.around, lost_watts(v.line, x, p), p)
        pack = pack_signals(v.line, cell_amps(v.line, x, p), floor_share(x, p), around, x, p)
        return (*pack, *pad_signals(v.line, x, p))

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in cells and board, and what the pads take [W]."""
        return lost_watts(v.line, x, p)

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the store: rest voltage times what is kept [W]."""
        amps = cell_amps(v.line, x, p)
        return rest_voltage(x, p) * pack_rate(amps, x, p) * p.capacity

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached, as a share of the rated one."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    contents = staticmethod(LithiumIronPhosphate.contents)
