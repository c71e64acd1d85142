"""A steady load that runs on surplus sun alone."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import FloatArray, Model, Surroundings, Values
from copperpath_plugins.loads.steady import Steady, steady_amps
from copperpath_plugins.loads.surplus import CONNECTED, SURPLUS_PARAMETERS, check_surplus


class SteadyOnSurplus(Model):
    """Behind a relay that senses the voltage at the load's own terminals."""

    interface = 1
    name = "steady_on_surplus"
    kind = "load"
    summary = "a steady load behind a relay that connects it while there is surplus sun"
    leaves_out = Steady.leaves_out + "; what the relay draws itself"
    parameters = (*Steady.parameters, *SURPLUS_PARAMETERS)
    terminals = Steady.terminals
    states = (CONNECTED,)
    derived = Steady.derived
    drives = Steady.drives
    powered = Steady.powered
    demand = Steady.demand
    spare = True

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """As the load itself; the relay's two voltages must be in order."""
        check_surplus(p)
        return Steady.derive(p)

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """As the load itself."""
        return Steady.drive(site, p)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]; none while disconnected."""
        return (x.connected * d.wanted * steady_amps(v.line, p),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `connected`."""
        return v.line > p.surplus_above, v.line < p.surplus_below
