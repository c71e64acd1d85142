"""Which device stands left of which: links from what feeds to what is fed, and columns.

Sources stand in the first column, loads in the last ones, all else between, each as near to what
it feeds as it can. A link is a cable with a left and a right end.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import networkx

from copperpath.plugin_api import Terminal
from copperpath.station import Cable, Device, Fuse, Station, TerminalRef

RANKS = {"source": 0, "storage": 1, "block": 2, "converter": 2, "load": 4}
"""What of two neighbours stands left, if nothing else tells."""


@dataclass(frozen=True, slots=True)
class Link:
    """A cable as it is drawn: `left` and `right` are its ends. `turned` says that it was written
    the other way round."""

    cable: Cable
    left: TerminalRef
    right: TerminalRef
    turned: bool

    def fuse_at(self, side: str) -> Fuse | None:
        """The fuse at its "left" or its "right" end."""
        starts = (side == "left") != self.turned
        return self.cable.fuse_at("start" if starts else "end")


@dataclass(frozen=True, slots=True)
class Scheme:
    """Devices in columns, and the links between them."""

    station: Station
    links: tuple[Link, ...]
    columns: tuple[tuple[str, ...], ...]
    """Names of devices, column by column from the left, in the order of the file."""


def make_scheme(station: Station) -> Scheme:
    """Links and columns of a station."""
    devices = {device.name: device for device in station.devices}
    away = _distances(station, devices)
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_nodes_from(devices)
    links = []
    # Those that are surest go first: a later one that would close a ring is turned round.
    for sure, cable in sorted(
        ((_sureness(cable, devices), cable) for cable in station.cables), key=lambda pair: pair[0]
    ):
        turned = _to_turn(cable, devices, away, sure)
        left, right = (cable.end, cable.start) if turned else (cable.start, cable.end)
        if left.device == right.device:
            continue
        if networkx.has_path(graph, right.device, left.device):
            left, right, turned = right, left, not turned
        graph.add_edge(left.device, right.device)
        links.append(Link(cable, left, right, turned))
    place = {cable.name: number for number, cable in enumerate(station.cables)}
    links.sort(key=lambda link: place[link.cable.name])
    column = _columns(graph, devices)
    count = max(column.values(), default=0) + 1
    columns = tuple(
        tuple(name for name in devices if column[name] == number) for number in range(count)
    )
    return _without_empty(Scheme(station, tuple(links), columns))


def gives(device: Device, terminal: str) -> bool:
    """True if a converter gives power at this terminal."""
    return any(
        isinstance(each, Terminal) and each.name == terminal and each.gives
        for each in device.model.terminals
    )


def alternating(device: Device, terminal: str) -> bool:
    """True if the terminal is for mains."""
    return any(
        isinstance(each, Terminal) and each.name == terminal and each.alternating
        for each in device.model.terminals
    )


def terminal_order(device: Device, terminal: str) -> tuple[int, int]:
    """A key by which a device's terminals stand in the order of its model."""
    if terminal.isdigit():
        return (len(device.model.terminals), int(terminal))
    names = [each.name for each in device.model.terminals if isinstance(each, Terminal)]
    return (names.index(terminal) if terminal in names else len(names), 0)


def _push(ref: TerminalRef, devices: dict[str, Device]) -> int:
    """How surely an end is the left one: 2 surely, -2 surely not, 0 nobody knows."""
    device = devices[ref.device]
    if device.kind == "source":
        return 2
    if device.kind == "load":
        return -2
    if device.kind == "converter":
        return 1 if gives(device, ref.terminal) else -1
    return 0


def _sureness(cable: Cable, devices: dict[str, Device]) -> int:
    return -abs(_push(cable.start, devices) - _push(cable.end, devices))


def _to_turn(cable: Cable, devices: dict[str, Device], away: dict[str, int], sure: int) -> bool:
    start, end = _push(cable.start, devices), _push(cable.end, devices)
    if sure and start != end:
        return start < end
    ranks = [RANKS[devices[ref.device].kind] for ref in (cable.start, cable.end)]
    if ranks[0] != ranks[1]:
        return ranks[0] > ranks[1]
    return away[cable.start.device] > away[cable.end.device]


def _distances(station: Station, devices: dict[str, Device]) -> dict[str, int]:
    """Cables between each device and the nearest store, or source if there is none."""
    graph: networkx.Graph[str] = networkx.Graph()
    graph.add_nodes_from(devices)
    graph.add_edges_from((cable.start.device, cable.end.device) for cable in station.cables)
    kinds = ["storage", "source", "converter"]
    roots: list[str] = next(
        (found for kind in kinds if (found := [n for n, d in devices.items() if d.kind == kind])),
        [],
    )
    near = networkx.multi_source_dijkstra_path_length(graph, set(roots)) if roots else {}
    return {name: int(near.get(name, len(devices))) for name in devices}


def _columns(graph: networkx.DiGraph[str], devices: dict[str, Device]) -> dict[str, int]:
    """Column of each device: as far left as what feeds it allows, then what nothing feeds moved
    right to what it feeds, sources to the left edge and loads to the right one."""
    order = list(networkx.topological_sort(graph))
    column: dict[str, int] = {}
    for name in order:
        column[name] = max((column[each] + 1 for each in graph.predecessors(name)), default=0)
    if any(device.kind == "source" for device in devices.values()):
        for name in order:
            if devices[name].kind != "source" and not column[name]:
                _shift(graph, column, name)
    last = max(column.values(), default=0)
    for name in reversed(order):
        nexts = list(graph.successors(name))
        kind = devices[name].kind
        if kind == "load":
            column[name] = min((column[each] - 1 for each in nexts), default=last)
        elif kind != "source" and nexts and not list(graph.predecessors(name)):
            column[name] = min(column[each] for each in nexts) - 1
    return column


def _shift(graph: networkx.DiGraph[str], column: dict[str, int], name: str) -> None:
    """Move a device, and what must stay right of it, out of the column of the sources."""
    column[name] = 1
    for each in networkx.topological_sort(graph):
        for before in graph.predecessors(each):
            column[each] = max(column[each], column[before] + 1)


def _without_empty(scheme: Scheme) -> Scheme:
    return replace(scheme, columns=tuple(column for column in scheme.columns if column))


def linked(links: Iterable[Link], name: str) -> tuple[list[Link], list[Link]]:
    """The links that end at a device's left side, and at its right side."""
    left = [link for link in links if link.right.device == name]
    right = [link for link in links if link.left.device == name]
    return left, right
