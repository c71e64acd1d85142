"""Prospective short-circuit current: what stores and sources push into a bolted short.

Each store counts as its voltage when full behind its resistance (warm, from its law near no
current), each converter and source as the most current it gives. A protection board's own trip is
not counted, as it may be the part that fails. Right within about 30 %: common practice, no source.
"""

from __future__ import annotations

import math

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.station import Station
from copperpath.wiring.lines import giving_terminals, line_graph, lines_of
from copperpath.wiring.protection import gives_at_most

LEAST_OHM = 1e-5
LEAK_S = 1e-9


def short_circuit_at(
    station: Station, terminal: str, stores: dict[str, tuple[float, float]]
) -> float:
    """Current into a short at a terminal [A].

    Parameters
    ----------
    station : Station
    terminal : str
        `strip.1`.
    stores : dict of str to (float, float)
        Open voltage [V] and resistance [ohm] of each store, by its terminal.
    """
    names = list(line_graph(station))
    index = {name: place for place, name in enumerate(names)}
    matrix, current = LEAK_S * np.eye(len(names)), np.zeros(len(names))
    for line in lines_of(station):
        siemens = 1.0 / max(line.ohm, LEAST_OHM)
        a, b = index[line.start], index[line.end]
        matrix[a, a] += siemens
        matrix[b, b] += siemens
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens
    limited = 0.0
    near = _reached(matrix, index[terminal])
    for giver, device in giving_terminals(station).items():
        place = index[giver]
        if giver in stores:
            volts, ohm = stores[giver]
            matrix[place, place] += 1.0 / max(ohm, LEAST_OHM)
            current[place] += volts / max(ohm, LEAST_OHM)
        elif near[place]:
            limit = gives_at_most(device)
            limited += 0.0 if limit is None or not math.isfinite(limit) else limit
    here = index[terminal]
    unit = np.zeros(len(names))
    unit[here] = 1.0
    column = np.linalg.solve(matrix, np.column_stack([current, unit]))
    return float(column[here, 0] / column[here, 1]) + limited


def _reached(matrix: FloatArray, start: int) -> FloatArray:
    """Which nodes hang together with one (node,), 1 or 0."""
    seen = np.zeros(len(matrix))
    waiting = [start]
    while waiting:
        node = waiting.pop()
        if seen[node]:
            continue
        seen[node] = 1.0
        waiting += [int(each) for each in np.flatnonzero(matrix[node]) if not seen[each]]
    return seen
