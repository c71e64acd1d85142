"""A load at mains voltage that runs on surplus sun alone."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import FloatArray, Model, Surroundings, Values, constant_power
from copperpath_plugins.loads.mains_load import MainsLoad
from copperpath_plugins.loads.surplus import (
    CONNECTED,
    SENSE,
    SURPLUS_PARAMETERS,
    check_surplus,
)


class MainsLoadOnSurplus(Model):
    """Its plug shows nothing of the battery, so its relay has a lead of its own to it."""

    interface = 1
    name = "mains_load_on_surplus"
    kind = "load"
    summary = "a load at mains voltage behind a relay that connects it while there is surplus sun"
    leaves_out = MainsLoad.leaves_out + "; what the relay draws itself"
    parameters = (*MainsLoad.parameters, *SURPLUS_PARAMETERS)
    terminals = (*MainsLoad.terminals, SENSE)
    states = (CONNECTED,)
    drives = MainsLoad.drives
    powered = MainsLoad.powered
    demand = MainsLoad.demand
    spare = True

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Nothing; the relay's two voltages must be in order."""
        check_surplus(p)
        return {}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """As the load itself."""
        return MainsLoad.drive(site, p)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the line, in phase, and the sense terminal [A]; none at the latter."""
        amps = x.connected * constant_power(v.line, d.wanted * p.power, p.works_low)
        return amps, 0.0 * v.sense

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `connected`."""
        return v.sense > p.surplus_above, v.sense < p.surplus_below
