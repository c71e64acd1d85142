"""A thing on a 5 V outlet that runs on surplus sun alone."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import FloatArray, Model, Surroundings, Values, constant_power
from copperpath_plugins.loads.surplus import (
    CONNECTED,
    SENSE,
    SURPLUS_PARAMETERS,
    check_surplus,
)
from copperpath_plugins.loads.usb_device import UsbDevice


class UsbDeviceOnSurplus(Model):
    """Its outlet shows nothing of the battery, so its relay has a lead of its own to it."""

    interface = 1
    name = "usb_device_on_surplus"
    kind = "load"
    summary = "a phone, tablet or lamp on an outlet that gives power while there is surplus sun"
    leaves_out = UsbDevice.leaves_out + "; what the relay draws itself"
    parameters = (*UsbDevice.parameters, *SURPLUS_PARAMETERS)
    terminals = (*UsbDevice.terminals, SENSE)
    states = (CONNECTED,)
    derived = UsbDevice.derived
    drives = UsbDevice.drives
    powered = UsbDevice.powered
    demand = UsbDevice.demand
    spare = True

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """As the device itself; the relay's two voltages must be in order."""
        check_surplus(p)
        return UsbDevice.derive(p)

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """As the device itself."""
        return UsbDevice.drive(site, p)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the line and the sense terminal [A]; none at the latter."""
        amps = x.connected * constant_power(v.line, d.wanted * p.watts, p.works_low)
        return amps, 0.0 * v.sense

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Set and clear of `connected`."""
        return v.sense > p.surplus_above, v.sense < p.surplus_below
