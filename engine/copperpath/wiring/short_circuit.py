"""Prospective short-circuit current: what stores and sources push into a bolted short.

Each store counts as its voltage when full behind its resistance (warm, from its law near no
current), each converter and source as the most current it gives. A protection board's own trip is
not counted, as it may be the part that fails. Right within about 30 %: common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from copperpath.wiring.lines import Wiring
from copperpath.wiring.protection import gives_at_most

LEAST_OHM = 1e-5
LEAK_S = 1e-9


def short_circuits(wiring: Wiring, stores: Mapping[str, tuple[float, float]]) -> dict[str, float]:
    """Current into a short at each terminal, one at a time [A].

    Parameters
    ----------
    wiring : Wiring
    stores : mapping of str to (float, float)
        Open voltage [V] and resistance [ohm] of each store, by its terminal.
    """
    names = list(wiring.graph)
    index = {name: place for place, name in enumerate(names)}
    matrix, current = LEAK_S * np.eye(len(names)), np.zeros(len(names))
    for line in wiring.lines:
        siemens = 1.0 / max(line.ohm, LEAST_OHM)
        a, b = index[line.start], index[line.end]
        matrix[a, a] += siemens
        matrix[b, b] += siemens
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens
    for terminal, (volts, ohm) in stores.items():
        place, siemens = index[terminal], 1.0 / max(ohm, LEAST_OHM)
        matrix[place, place] += siemens
        current[place] += volts * siemens
    inverse = np.linalg.inv(matrix)
    pushed = (inverse @ current) / np.diag(inverse)
    return {name: float(pushed[index[name]]) + _limited(wiring, name, stores) for name in names}


def _limited(wiring: Wiring, terminal: str, stores: Mapping[str, tuple[float, float]]) -> float:
    """What the sources and converters joined to a terminal give at the most [A]."""
    total = 0.0
    for giver, device in wiring.giving.items():
        if giver not in stores and giver in wiring.part_of[terminal]:
            limit = gives_at_most(device)
            total += 0.0 if limit is None or not math.isfinite(limit) else limit
    return total
