"""How a terminal is fed: the way of least resistance from what gives power on its wiring."""

from __future__ import annotations

from itertools import pairwise

import networkx

from copperpath.plugin_api.inquiry import Feed
from copperpath.station import Station
from copperpath.wiring.lines import Line, giving_terminals, line_graph


def feed_of(station: Station, terminal: str) -> Feed | None:
    """The way to a terminal from the nearest store, else source or converter; None if nothing
    feeds it. A store comes first, for it carries what a radio takes when keyed."""
    graph = line_graph(station)
    giving = giving_terminals(station)
    own = terminal.rpartition(".")[0]
    ways = networkx.single_source_dijkstra_path(graph, terminal, weight="ohm")
    lengths = networkx.single_source_dijkstra_path_length(graph, terminal, weight="ohm")
    reached = [name for name in ways if name in giving and giving[name].name != own]
    if not reached:
        return None
    stores = [name for name in reached if giving[name].kind == "storage"]
    giver = min(stores or reached, key=lambda name: float(lengths[name]))
    path = ways[giver][::-1]
    cables, blocks, total = [], [], 0.0
    for one, other in pairwise(path):
        line: Line = min(
            (each["line"] for each in graph[one][other].values()), key=lambda each: each.ohm
        )
        total += line.ohm
        if line.cable:
            cables.append(line.cable)
        else:
            blocks.append(one.rpartition(".")[0])
    return Feed(giver, tuple(cables), tuple(blocks), total)
