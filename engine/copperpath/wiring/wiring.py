"""The wiring of a station by its shape: its lines by terminal, what hangs together, and which
lines are the only way to what lies behind them. Made once, asked often."""

from __future__ import annotations

from functools import cached_property

from copperpath.network.nodes import seeking_terminals, solved_terminals
from copperpath.station import Cable, Device, Station
from copperpath.wiring.lines import Line, giving_terminals, lines_of


class Wiring:
    """A station's lines, ready to be walked along."""

    def __init__(self, station: Station) -> None:
        self.station = station
        self.lines: tuple[Line, ...] = lines_of(station)
        self.cables: dict[str, Cable] = {cable.name: cable for cable in station.cables}

    @cached_property
    def around(self) -> dict[str, list[tuple[str, Line]]]:
        """For each terminal those that a line joins to it, each with the line."""
        around: dict[str, list[tuple[str, Line]]] = {}
        for device in self.station.devices:
            for name in (*solved_terminals(device), *seeking_terminals(device)):
                if name not in device.model.inner:
                    around[f"{device.name}.{name}"] = []
        for line in self.lines:
            around.setdefault(line.start, []).append((line.end, line))
            around.setdefault(line.end, []).append((line.start, line))
        return around

    @cached_property
    def giving(self) -> dict[str, Device]:
        """Terminals at which something can give power."""
        return giving_terminals(self.station)

    @cached_property
    def _parts(self) -> dict[str, frozenset[str]]:
        parts: dict[str, frozenset[str]] = {}
        for start in self.around:
            if start in parts:
                continue
            seen, waiting = {start}, [start]
            while waiting:
                for other, _ in self.around[waiting.pop()]:
                    if other not in seen:
                        seen.add(other)
                        waiting.append(other)
            parts |= dict.fromkeys(seen, frozenset(seen))
        return parts

    def joined(self, terminal: str) -> frozenset[str]:
        """Terminals that lines join to one, itself too.

        Raises
        ------
        KeyError
            If there is no such terminal.
        """
        return self._parts[terminal]

    @cached_property
    def only_ways(self) -> frozenset[str]:
        """Names of the cables without which what lies at their two ends is not joined.

        Tarjan, A note on finding the bridges of a graph, 1974, without recursion.
        """
        found: set[str] = set()
        turn: dict[str, int] = {}
        lowest: dict[str, int] = {}
        for root in self.around:
            if root in turn:
                continue
            turn[root] = lowest[root] = len(turn)
            trail: list[tuple[str, Line | None, int]] = [(root, None, 0)]
            while trail:
                at, came, place = trail.pop()
                if place < len(self.around[at]):
                    trail.append((at, came, place + 1))
                    other, line = self.around[at][place]
                    if line is came:
                        continue
                    if other in turn:
                        lowest[at] = min(lowest[at], turn[other])
                    else:
                        turn[other] = lowest[other] = len(turn)
                        trail.append((other, line, 0))
                elif came is not None:
                    above = trail[-1][0]
                    lowest[above] = min(lowest[above], lowest[at])
                    if lowest[at] == turn[at] and came.cable:
                        found.add(came.cable)
        return frozenset(found)
