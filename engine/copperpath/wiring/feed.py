"""How a terminal is fed: the way of least resistance from what gives power on its wiring."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from heapq import heappop, heappush

from copperpath.plugin_api.inquiry import Feed
from copperpath.wiring.lines import Line
from copperpath.wiring.wiring import Wiring


@dataclass(frozen=True, slots=True)
class _Reached:
    """How far a terminal is from what feeds it [ohm], and the step before; none at the giver."""

    ohm: float
    giver: str
    before: str = ""
    line: Line | None = None


class Feeds:
    """The ways of a wiring, each worked out once."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring

    @cached_property
    def _from_stores(self) -> dict[str, _Reached]:
        giving = self.wiring.giving
        return _spread(self.wiring, [t for t, device in giving.items() if device.kind == "storage"])

    @cached_property
    def _from_others(self) -> dict[str, _Reached]:
        giving = self.wiring.giving
        return _spread(self.wiring, [t for t, device in giving.items() if device.kind != "storage"])

    def of(self, terminal: str) -> Feed | None:
        """The way to a terminal from the nearest store, else source or converter; None if nothing
        feeds it. A store comes first, for it carries what a radio takes when keyed."""
        own = terminal.rpartition(".")[0]
        for ways in (self._from_stores, self._from_others):
            reached = ways.get(terminal)
            if reached is not None and _device(reached.giver) == own:
                # Its own terminals feed nothing; look for the next.
                stores = ways is self._from_stores
                others = [
                    each
                    for each, device in self.wiring.giving.items()
                    if device.name != own and (device.kind == "storage") == stores
                ]
                ways = _spread(self.wiring, others)
                reached = ways.get(terminal)
            if reached is not None:
                return _feed(ways, terminal)
        return None


def _device(terminal: str) -> str:
    return terminal.rpartition(".")[0]


def _spread(wiring: Wiring, givers: Iterable[str]) -> dict[str, _Reached]:
    """For each terminal that something feeds, the nearest giver and the way (Dijkstra)."""
    best = {giver: _Reached(0.0, giver) for giver in givers}
    waiting = [(0.0, giver) for giver in best]
    done: set[str] = set()
    while waiting:
        ohm, at = heappop(waiting)
        if at in done:
            continue
        done.add(at)
        for other, line in wiring.around[at]:
            further = ohm + line.ohm
            if other not in best or further < best[other].ohm:
                best[other] = _Reached(further, best[at].giver, at, line)
                heappush(waiting, (further, other))
    return best


def _feed(ways: dict[str, _Reached], terminal: str) -> Feed:
    cables: list[str] = []
    blocks: list[str] = []
    step = ways[terminal]
    while step.line is not None:
        if step.line.cable:
            cables.append(step.line.cable)
        else:
            blocks.append(_device(step.before))
        step = ways[step.before]
    whole = ways[terminal]
    return Feed(whole.giver, tuple(reversed(cables)), tuple(reversed(blocks)), whole.ohm)
