"""What opens when a cable is shorted: for each end and each giver, the smallest rating on the way.

Where several ways lead there, the one that lets most through counts.
"""

from __future__ import annotations

import math

import networkx

from copperpath.plugin_api.inquiry import CableView, Protection
from copperpath.station import Cable, Device, Station
from copperpath.wiring.lines import Line, giving_terminals, line_graph

PANEL_BRIGHT = 1.25
"""Light above 1000 W/m² that a panel may meet: NEC 690.8(A)(1)."""


def protection_of(station: Station, cable: CableView) -> tuple[Protection, ...]:
    """What opens if a cable is shorted, the end and giver that lets most through first."""
    graph = line_graph(station, without=cable.name)
    giving = giving_terminals(station)
    found = []
    for end, terminal in (("start", str(cable.start)), ("end", str(cable.end))):
        own = next((fuse for fuse in cable.fuses if fuse.end == end), None)
        for giver, device in giving.items():
            most, by = _way(station, graph, giver, terminal)
            if most < 0.0:
                continue
            limit = gives_at_most(device)
            if own is not None and own.rating_a < most:
                most, by = own.rating_a, cable.name
            if limit is not None and limit < most:
                most, by = limit, "itself"
            found.append(Protection(end, giver, most, by))
    return tuple(sorted(found, key=lambda each: -each.rating_a))


def gives_at_most(device: Device) -> float | None:
    """The most current that a device gives into a short, None for one that is not limited [A]."""
    values = device.values
    if device.kind == "storage":
        return None
    if "isc" in values and "parallel" in values:
        return PANEL_BRIGHT * float(values["isc"]) * float(values["parallel"])
    if "rating" in values and "voltage" in values and _has_power(device, "rating"):
        return float(values["rating"]) / float(values["voltage"])
    for name in ("output_limit", "limit", "current_limit"):
        limit = values.get(name)
        if limit is not None and math.isfinite(float(limit)) and _is_current(device, name):
            return float(limit)
    most = values.get("most_amps")
    if device.kind == "converter" and most is not None:
        # Worked out from a power budget, as that of a USB-C outlet is.
        return float(most)
    return None


def _is_current(device: Device, name: str) -> bool:
    return _dimension(device, name) == "current"


def _has_power(device: Device, name: str) -> bool:
    return _dimension(device, name) == "power"


def _dimension(device: Device, name: str) -> str:
    found = [parameter for parameter in device.model.parameters if parameter.name == name]
    return str(getattr(found[0], "dimension", "")) if found else ""


def _way(
    station: Station, graph: networkx.MultiGraph[str], giver: str, terminal: str
) -> tuple[float, str]:
    """The smallest rating on the way that lets most through, and what it is; -1 if there is no
    way. A fuse in another cable counts wherever in it it sits."""
    if terminal not in graph or giver not in graph:
        return -1.0, ""
    cables = {cable.name: cable for cable in station.cables}
    best: dict[str, tuple[float, str]] = {giver: (math.inf, "")}
    waiting = [giver]
    while waiting:
        at = max(waiting, key=lambda name: best[name][0])
        waiting.remove(at)
        if at == terminal:
            break
        for other, several in graph[at].items():
            for each in several.values():
                rating, by = _through(each["line"], cables)
                most = min(best[at][0], rating)
                if most > best.get(other, (-1.0, ""))[0]:
                    best[other] = (most, by if rating < best[at][0] else best[at][1])
                    if other not in waiting:
                        waiting.append(other)
    return best.get(terminal, (-1.0, ""))


def _through(line: Line, cables: dict[str, Cable]) -> tuple[float, str]:
    if line.cable:
        fuses = cables[line.cable].fuses
        if not fuses:
            return math.inf, ""
        return min(fuse.rating_a for fuse in fuses), line.cable
    if line.rating_a is not None:
        return line.rating_a, line.device
    return math.inf, ""
