"""The plan of elimination as the rows that compiled code follows.

Nodes that hang on one other when their turn comes are taken out of the general program: they need
no inner loops. Any order will do in which nothing is eliminated before what hangs on it, so the
nodes that hang on one are spread out: a sum is then not waited for by the very next one.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from copperpath.network.elimination import Elimination


def _small(*names: str) -> list[tuple[str, type]]:
    return [(name, np.uint32) for name in names]


HANGING = np.dtype(_small("node", "beside", "lower", "upper"))
"""Nodes that hang on one other when their turn comes, in order of elimination; that other; the
positions of (beside, node) and (node, beside). First the tips, on which nothing hangs itself."""
PIVOT = np.dtype(_small("node", "first", "fill"))
"""The nodes after those in order of elimination, where their rows begin in `around`, `fill`."""
AROUND = np.dtype(_small("node", "lower", "upper"))
"""Neighbours of a pivot and the positions of the two entries that couple them."""


@dataclass(frozen=True, slots=True)
class EliminationRows:
    """Arrays of HANGING (`tips` of which come first), PIVOT, AROUND, and positions of the fill."""

    tips: int
    hanging: np.ndarray
    pivot: np.ndarray
    around: np.ndarray
    fill: np.ndarray


def elimination_rows(plan: Elimination) -> EliminationRows:
    """Split a plan into nodes that hang on one other, and all that come after them."""
    sizes = np.diff(plan.first)
    meshed = int(np.argmax(sizes > 1)) if np.any(sizes > 1) else len(sizes)
    hanging = [turn for turn in range(meshed) if sizes[turn] == 1]
    others = [turn for turn in range(len(sizes)) if turn >= meshed or sizes[turn] == 0]
    tips, rows = _in_layers(plan, hanging)
    pivots: list[tuple[int, int, int]] = []
    around: list[tuple[int, int, int]] = []
    fill: list[int] = []
    for turn in others:
        span = slice(plan.first[turn], plan.first[turn + 1])
        pivots.append((int(plan.order[turn]), len(around), len(fill)))
        around += list(zip(plan.neighbour[span], plan.lower[span], plan.upper[span], strict=True))
        fill += plan.fill[plan.fill_first[turn] : plan.fill_first[turn + 1]].tolist()
    pivots.append((0, len(around), len(fill)))
    return EliminationRows(
        tips,
        np.array(rows, dtype=HANGING),
        np.array(pivots, dtype=PIVOT),
        np.array(around, dtype=AROUND),
        np.array(fill, dtype=np.uint32),
    )


def _in_layers(plan: Elimination, turns: list[int]) -> tuple[int, list[tuple[int, ...]]]:
    """How many are tips, and rows of HANGING: tips, then what only tips hang on, and so on; in a
    layer the first of each node's, then the second of each, and so on."""
    layer: Counter[int] = Counter()
    hung: Counter[tuple[int, int]] = Counter()
    keyed = []
    for turn in turns:
        at = plan.first[turn]
        node, beside = int(plan.order[turn]), int(plan.neighbour[at])
        depth = layer[node]
        layer[beside] = max(layer[beside], depth + 1)
        hung[depth, beside] += 1
        row = (node, beside, int(plan.lower[at]), int(plan.upper[at]))
        keyed.append((depth, hung[depth, beside], row))
    tips = sum(depth == 0 for depth, _, _ in keyed)
    return tips, [row for _, _, row in sorted(keyed)]
