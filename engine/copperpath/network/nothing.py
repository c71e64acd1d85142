"""A station in which nothing gives or takes power."""

from __future__ import annotations

from copperpath.finding import Finding
from copperpath.station import Station
from copperpath_grammar.diagnostics import Level


def nothing_to_solve(station: Station, parts: object) -> list[Finding]:
    """No device, or strips and other plain blocks alone: no volts and amps to be worked out."""
    if any(device.model.law is not None for device in station.devices):
        return []
    message = "nothing in the station gives or takes power"
    remedy = "add a battery, a load, and a cable between them"
    return [Finding(Level.FAIL, "nothing-to-solve", message, "station", None, remedy)]
