"""Prospective short-circuit current: what stores and sources push into a bolted short.

Each store counts as its voltage when full behind its resistance (warm, from its law near no
current), each converter and source as the most current it gives. A protection board's own trip is
not counted, as it may be the part that fails. Right within about 30 %: common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cached_property

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.wiring.protection import gives_at_most
from copperpath.wiring.wiring import Wiring

LEAST_OHM = 1e-5
LEAK_S = 1e-9

MOST_DENSE = 300
"""Terminals up to which a full matrix is quicker than loading what solves a sparse one."""


class Shorts:
    """A wiring with its stores as voltages behind resistances, solved for each short asked for.

    Parameters
    ----------
    wiring : Wiring
    stores : mapping of str to (float, float)
        Open voltage [V] and resistance [ohm] of each store, by its terminal.
    """

    def __init__(self, wiring: Wiring, stores: Mapping[str, tuple[float, float]]) -> None:
        self.wiring = wiring
        self.stores = stores
        self._known: dict[str, float] = {}
        self.index = {name: place for place, name in enumerate(wiring.around)}

    def at(self, terminal: str) -> float:
        """Current into a short at a terminal [A]."""
        if terminal not in self._known:
            self._known[terminal] = self._at(terminal)
        return self._known[terminal]

    def _at(self, terminal: str) -> float:
        joined = self.wiring.joined(terminal)
        if not any(store in joined for store in self.stores):
            return self._limited(terminal)
        here = self.index[terminal]
        unit = np.zeros(len(self.index))
        unit[here] = 1.0
        ohm = self._solve(unit)[here]
        return float(self._open[here] / ohm) + self._limited(terminal)

    def _limited(self, terminal: str) -> float:
        """What converters and sources on the same wiring give at the most [A]."""
        joined = self.wiring.joined(terminal)
        total = 0.0
        for giver, device in self.wiring.giving.items():
            limit = None if giver in self.stores or giver not in joined else gives_at_most(device)
            total += 0.0 if limit is None or not math.isfinite(limit) else limit
        return total

    @cached_property
    def _open(self) -> FloatArray:
        """Volts of every terminal with nothing shorted, from the stores alone."""
        current = np.zeros(len(self.index))
        for giver, (volts, ohm) in self.stores.items():
            current[self.index[giver]] += volts / max(ohm, LEAST_OHM)
        return self._solve(current)

    @cached_property
    def _entries(self) -> tuple[list[int], list[int], list[float]]:
        rows = list(range(len(self.index)))
        columns, values = list(rows), [LEAK_S] * len(rows)
        for line in self.wiring.lines:
            siemens = 1.0 / max(line.ohm, LEAST_OHM)
            a, b = self.index[line.start], self.index[line.end]
            rows += [a, b, a, b]
            columns += [a, b, b, a]
            values += [siemens, siemens, -siemens, -siemens]
        for giver, (_, ohm) in self.stores.items():
            rows.append(self.index[giver])
            columns.append(self.index[giver])
            values.append(1.0 / max(ohm, LEAST_OHM))
        return rows, columns, values

    @cached_property
    def _solve(self) -> Callable[[FloatArray], FloatArray]:
        """What gives volts for currents into the terminals; the matrix is worked out once."""
        rows, columns, values = self._entries
        count = len(self.index)
        if count > MOST_DENSE:
            from scipy.sparse import csc_array
            from scipy.sparse.linalg import splu

            return splu(csc_array((values, (rows, columns)), shape=(count, count))).solve
        matrix = np.zeros((count, count))
        np.add.at(matrix, (rows, columns), values)
        inverse = np.linalg.inv(matrix)
        return lambda current: np.asarray(inverse @ current, dtype=np.float64)
