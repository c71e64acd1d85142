"""What opens when a cable is shorted: for each end and each giver, the smallest rating on the way.

Where several ways lead there, the one that lets most through counts.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from heapq import heappop, heappush

from copperpath.plugin_api.inquiry import CableView, Protection
from copperpath.station import Device
from copperpath.wiring.lines import Line
from copperpath.wiring.wiring import Wiring

PANEL_BRIGHT = 1.25
"""Light above 1000 W/m² that a panel may meet: NEC 690.8(A)(1)."""

Widest = dict[str, tuple[float, str, str]]
"""For each terminal that a giver reaches: the smallest rating on the way that lets most through
[A], what that is, and the cable by which it was reached last."""


class Protections:
    """What opens in a wiring, each way worked out once."""

    def __init__(self, wiring: Wiring, walked: Callable[[int], None] = lambda lines: None) -> None:
        """`walked` is told of how many lines each search for ways goes along."""
        self.wiring = wiring
        self._walked = walked
        self._known: dict[str, Widest] = {}

    def of(self, cable: CableView) -> tuple[Protection, ...]:
        """What opens if a cable is shorted, the end and giver that lets most through first."""
        found = []
        for end, terminal in (("start", str(cable.start)), ("end", str(cable.end))):
            own = next((fuse for fuse in cable.fuses if fuse.end == end), None)
            for giver, device in self.wiring.giving.items():
                way = self._way(giver, terminal, cable.name)
                if way is None:
                    continue
                most, by = way
                limit = gives_at_most(device)
                if own is not None and own.rating_a < most:
                    most, by = own.rating_a, cable.name
                if limit is not None and limit < most:
                    most, by = limit, "itself"
                found.append(Protection(end, giver, most, by))
        return tuple(sorted(found, key=lambda each: -each.rating_a))

    def _way(self, giver: str, terminal: str, without: str) -> tuple[float, str] | None:
        """The smallest rating on the way to a terminal that does not go over one cable, and what
        it is; None if there is no way. A fuse in another cable counts wherever in it it sits."""
        if without in self.wiring.only_ways:
            widest = self._from(giver)
            # Over the only way there is none back, so what it leads to is not reached without it.
            far = terminal in widest and widest[terminal][2] == without
            way = None if far else widest.get(terminal)
        else:
            self._walked(len(self.wiring.lines))
            way = _widest(self.wiring, giver, without).get(terminal)
        return None if way is None else way[:2]

    def _from(self, giver: str) -> Widest:
        if giver not in self._known:
            self._walked(len(self.wiring.lines))
            self._known[giver] = _widest(self.wiring, giver)
        return self._known[giver]


def _widest(wiring: Wiring, giver: str, without: str = "") -> Widest:
    """Every terminal that a giver reaches, by the way that lets most through."""
    best: Widest = {giver: (math.inf, "", "")}
    waiting = [(-math.inf, giver)]
    done: set[str] = set()
    while waiting:
        _, at = heappop(waiting)
        if at in done:
            continue
        done.add(at)
        for other, line in wiring.around[at]:
            if without and line.cable == without:
                continue
            rating, by = _through(line, wiring)
            most = min(best[at][0], rating)
            if other not in best or most > best[other][0]:
                best[other] = (most, by if rating < best[at][0] else best[at][1], line.cable)
                heappush(waiting, (-most, other))
    return best


def _through(line: Line, wiring: Wiring) -> tuple[float, str]:
    if line.cable:
        fuses = wiring.cables[line.cable].fuses
        if not fuses:
            return math.inf, ""
        return min(fuse.rating_a for fuse in fuses), line.cable
    if line.rating_a is not None:
        return line.rating_a, line.device
    return math.inf, ""


def gives_at_most(device: Device) -> float | None:
    """The most current that a device gives into a short, None for one that is not limited [A]."""
    values = device.values
    if device.kind == "storage":
        return None
    if "isc" in values and "parallel" in values:
        return PANEL_BRIGHT * float(values["isc"]) * float(values["parallel"])
    if "rating" in values and "voltage" in values and _dimension(device, "rating") == "power":
        return float(values["rating"]) / float(values["voltage"])
    for name in ("output_limit", "limit", "current_limit"):
        limit = float(values.get(name) or math.nan)
        if math.isfinite(limit) and _dimension(device, name) == "current":
            return limit
    most = float(values.get("most_amps") or math.nan)
    if device.kind == "converter" and math.isfinite(most):
        # Worked out from a power budget, as that of a USB-C outlet is.
        return most
    return None


def _dimension(device: Device, name: str) -> str:
    found = [parameter for parameter in device.model.parameters if parameter.name == name]
    return str(getattr(found[0], "dimension", "")) if found else ""
