"""Station to network: which terminals are nodes, which parts are source-side zones.

A seeking terminal splits the network: what lies behind it is solved apart, since a tracking
controller joins the two sides by power, not by current.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx

from copperpath.network.circuit import LEAST_OHM, Branch, Circuit, Network, Slot
from copperpath.network.elimination import plan_elimination
from copperpath.network.merging import merge
from copperpath.plugin_api import Terminal
from copperpath.station import Device, Station

USUAL_V = 16.0
"""Where a node starts if nothing says what voltage it is for."""

LOW_VOLTAGE_V = 120.0
"""Above this lie mains, which tell nothing of the rest."""


def make_network(station: Station) -> Network:
    """Nodes, branches, zones and elimination orders of a station.

    The station must have passed `checks.check_network` without errors.
    """
    graph = terminal_graph(station)
    levels = _levels(station)
    seekers = [f"{d.name}.{t}" for d in station.devices for t in seeking_terminals(d)]
    parts: list[frozenset[str]] = []
    for seeker in seekers:
        part = frozenset(networkx.node_connected_component(graph, seeker))
        if part not in parts:
            parts.append(part)
    ports = [tuple(seeker for seeker in seekers if seeker in part) for part in parts]
    zones = tuple(
        _circuit(station, sorted(part), {}, levels, ports=own)
        for part, own in zip(parts, ports, strict=True)
    )
    zone_of = [next(k for k, part in enumerate(parts) if seeker in part) for seeker in seekers]
    hidden = frozenset().union(*parts)
    names = [name for name in graph if name not in hidden]
    seeks = {seeker.rpartition(".")[0]: index for index, seeker in enumerate(seekers)}
    return Network(
        _circuit(station, names, seeks, levels),
        zones,
        tuple((zone, ports[zone].index(s)) for zone, s in zip(zone_of, seekers, strict=True)),
    )


def _levels(station: Station) -> dict[str, float]:
    """For each terminal the highest voltage that anything puts out on what hangs together with
    it by wires; where nothing does, the highest anything below mains puts out anywhere [V]."""
    graph = terminal_graph(station, through_converters=False)
    highest = dict.fromkeys(graph, 0.0)
    for device in station.devices:
        if device.model.pushes:
            for name in _giving_terminals(device):
                highest[name] = float(device.values[device.model.pushes])
    parts = [
        (part, max(highest[name] for name in part)) for part in networkx.connected_components(graph)
    ]
    low = [level for _, level in parts if 0.0 < level <= LOW_VOLTAGE_V]
    usual = max(low, default=USUAL_V)
    return {name: level or usual for part, level in parts for name in part}


def _giving_terminals(device: Device) -> list[str]:
    """Where a device puts its voltage out: its mains terminals if it has any and is no converter,
    else all its terminals, or those of a converter that give."""
    giving = {t.name for t in device.model.terminals if isinstance(t, Terminal) and t.gives}
    names = [f"{device.name}.{name}" for name in solved_terminals(device)]
    if device.kind == "converter":
        return [name for name in names if name.rpartition(".")[2] in giving]
    mains = mains_terminals(device)
    return [name for name in names if not mains or name in mains]


def mains_terminals(device: Device) -> frozenset[str]:
    """Full names of the terminals that carry mains."""
    return frozenset(
        f"{device.name}.{terminal.name}"
        for terminal in device.model.terminals
        if isinstance(terminal, Terminal) and terminal.alternating
    )


def terminal_graph(
    station: Station, *, through_converters: bool = True, through_one_way: bool = True
) -> networkx.Graph[str]:
    """Terminals and inner nodes as points; cables, links and laws as edges. A law couples all
    its terminals but the seeking one; without `through_converters` those of a converter do not,
    nor mains and other terminals of anything, so that what hangs together is what wires join."""
    graph: networkx.Graph[str] = networkx.Graph()
    for device in station.devices:
        names = [f"{device.name}.{terminal}" for terminal in solved_terminals(device)]
        graph.add_nodes_from(names)
        graph.add_nodes_from(f"{device.name}.{t}" for t in seeking_terminals(device))
        if device.model.law is None or (device.model.one_way and not through_one_way):
            continue
        if through_converters:
            graph.add_edges_from((names[0], other) for other in names[1:])
        elif device.kind != "converter":
            mains = mains_terminals(device)
            for side in ([n for n in names if n in mains], [n for n in names if n not in mains]):
                graph.add_edges_from((side[0], other) for other in side[1:])
    for branch_start, branch_end, *_ in _branches(station):
        graph.add_edge(branch_start, branch_end)
    return graph


def wired_parts(station: Station, *, through_one_way: bool = True) -> list[frozenset[str]]:
    """What hangs together by wires, each part the names of its terminals; a converter's two sides
    are two parts, and without `through_one_way` those of a diode."""
    graph = terminal_graph(station, through_converters=False, through_one_way=through_one_way)
    return [frozenset(part) for part in networkx.connected_components(graph)]


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
    station: Station,
    names: list[str],
    seeks: dict[str, int],
    levels: dict[str, float],
    ports: tuple[str, ...] = (),
) -> Circuit:
    index = {name: place for place, name in enumerate(names)}
    branches = tuple(
        Branch(owner, is_cable, index[start], index[end], max(ohm, LEAST_OHM))
        for start, end, ohm, owner, is_cable in _branches(station)
        if start in index
    )
    wired: list[tuple[Device, tuple[int, ...]]] = []
    for device in station.devices:
        terminals = [f"{device.name}.{terminal}" for terminal in solved_terminals(device)]
        if device.model.law is not None and terminals[0] in index:
            wired.append((device, tuple(index[name] for name in terminals)))
    held = tuple(index[port] for port in ports)
    merged = merge(len(names), branches, {*held, *(node for _, nodes in wired for node in nodes)})
    place = {node: at for at, node in enumerate(merged.nodes)}
    slots = tuple(
        Slot(device, nodes, tuple(place[node] for node in nodes), seeks.get(device.name, -1))
        for device, nodes in wired
    )
    couplings = [(a, b) for slot in slots for a in slot.kept for b in slot.kept]
    couplings += zip(merged.start.tolist(), merged.end.tolist(), strict=True)
    return Circuit(
        tuple(names),
        branches,
        slots,
        merged,
        plan_elimination(len(merged.nodes), couplings),
        tuple(levels[names[node]] for node in merged.nodes),
        held,
    )
