"""Station to network: which terminals are nodes, which parts are source-side zones.

A seeking terminal splits the network: what lies behind it is solved apart, since a tracking
controller joins the two sides by power, not by current.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx

from copperpath.network.circuit import LEAST_OHM, Branch, Circuit, Network, Slot
from copperpath.network.elimination import plan_elimination
from copperpath.plugin_api import Terminal
from copperpath.station import Device, Station


def make_network(station: Station) -> Network:
    """Nodes, branches, zones and elimination orders of a station.

    The station must have passed `checks.check_network` without errors.
    """
    graph = terminal_graph(station)
    seekers = [f"{d.name}.{t}" for d in station.devices for t in seeking_terminals(d)]
    behind: list[frozenset[str]] = []
    for seeker in seekers:
        part = frozenset(networkx.node_connected_component(graph, seeker))
        behind.append(part)
    hidden = frozenset().union(*behind)
    zones = tuple(
        _circuit(station, sorted(part), {}, port=seeker)
        for seeker, part in zip(seekers, behind, strict=True)
    )
    seeks = {seeker.split(".")[0]: index for index, seeker in enumerate(seekers)}
    names = [name for name in graph if name not in hidden]
    return Network(_circuit(station, names, seeks, port=None), zones)


def terminal_graph(station: Station, *, through_converters: bool = True) -> networkx.Graph[str]:
    """Terminals and inner nodes as points; cables, links and laws as edges. A law couples all
    its terminals but the seeking one; without `through_converters` those of a converter do not,
    so that what hangs together is what wires join."""
    graph: networkx.Graph[str] = networkx.Graph()
    for device in station.devices:
        names = [f"{device.name}.{terminal}" for terminal in solved_terminals(device)]
        graph.add_nodes_from(names)
        graph.add_nodes_from(f"{device.name}.{t}" for t in seeking_terminals(device))
        coupled = through_converters or device.kind != "converter"
        if device.model.law is not None and coupled:
            graph.add_edges_from((names[0], other) for other in names[1:])
    for branch_start, branch_end, *_ in _branches(station):
        graph.add_edge(branch_start, branch_end)
    return graph


def seeking_terminals(device: Device) -> list[str]:
    """Names of the terminals where the device looks for the most power."""
    return [
        terminal.name
        for terminal in device.model.terminals
        if isinstance(terminal, Terminal) and terminal.seeking
    ]


def solved_terminals(device: Device) -> list[str]:
    """Names of the other terminals, numbered ways and inner nodes, in the law's order."""
    names: list[str] = []
    for terminal in device.model.terminals:
        if not isinstance(terminal, Terminal):
            names += [str(way + 1) for way in range(int(device.values[terminal.count]))]
        elif not terminal.seeking:
            names.append(terminal.name)
    return names + list(device.model.inner)


def _branches(station: Station) -> Iterator[tuple[str, str, float, str, bool]]:
    for cable in station.cables:
        yield str(cable.start), str(cable.end), cable.resistance_ohm, cable.name, True
    for device in station.devices:
        for link in device.model.links(device.values):
            start, end = f"{device.name}.{link.start}", f"{device.name}.{link.end}"
            yield start, end, link.ohm, device.name, False


def _circuit(
    station: Station, names: list[str], seeks: dict[str, int], port: str | None
) -> Circuit:
    index = {name: place for place, name in enumerate(names)}
    branches = tuple(
        Branch(owner, is_cable, index[start], index[end], max(ohm, LEAST_OHM))
        for start, end, ohm, owner, is_cable in _branches(station)
        if start in index
    )
    slots: list[Slot] = []
    couplings = [(branch.start, branch.end) for branch in branches]
    for device in station.devices:
        terminals = [f"{device.name}.{terminal}" for terminal in solved_terminals(device)]
        if device.model.law is None or terminals[0] not in index:
            continue
        nodes = tuple(index[name] for name in terminals)
        slots.append(Slot(device, nodes, seeks.get(device.name, -1)))
        couplings += [(a, b) for a in nodes for b in nodes]
    return Circuit(
        tuple(names),
        branches,
        tuple(slots),
        plan_elimination(len(names), couplings),
        index[port] if port is not None else -1,
    )
