"""A heater that runs on surplus sun alone."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import FloatArray, Model, Surroundings, Values
from copperpath_plugins.loads.heater import Heater
from copperpath_plugins.loads.surplus import CONNECTED, SURPLUS_PARAMETERS, check_surplus


class HeaterOnSurplus(Model):
    """Behind a relay that senses the voltage at the heater's own terminals."""

    interface = 1
    name = "heater_on_surplus"
    kind = "load"
    summary = "a heater with a thermostat behind a relay that connects it while there is surplus"
    leaves_out = Heater.leaves_out + "; what the relay draws itself"
    parameters = (*Heater.parameters, *SURPLUS_PARAMETERS)
    terminals = Heater.terminals
    states = (*Heater.states, CONNECTED)
    derived = Heater.derived
    drives = Heater.drives
    powered = Heater.powered
    demand = Heater.demand
    spare = True

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """As the heater itself; the relay's two voltages must be in order."""
        check_surplus(p)
        return Heater.derive(p)

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """As the heater itself."""
        return Heater.drive(site, p)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]; none while disconnected."""
        return (x.connected * x.heating * d.hours * p.siemens * v.line,)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `heating`, then of `connected`."""
        return (
            d.wanted > 0.0,
            (d.around > p.below + p.band) | (d.hours <= 0.0),
            v.line > p.surplus_above,
            v.line < p.surplus_below,
        )
