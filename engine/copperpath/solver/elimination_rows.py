"""The plan of elimination as the rows that compiled code follows.

Nodes that hang on one other when their turn comes are taken out of the general program: they need
no inner loops. Any order will do in which nothing is eliminated before what hangs on it, so all
that hang on one node stand together: their sum is made in a register and written once.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from copperpath.network.elimination import Elimination


def _small(*names: str) -> list[tuple[str, type]]:
    return [(name, np.uint32) for name in names]


HANGING = np.dtype(_small("node", "lower", "upper"))
"""Nodes that hang on one other when their turn comes, in order of elimination; the positions of
(that other, node) and (node, that other). First the tips, on which nothing hangs itself."""
GROUP = np.dtype(_small("beside", "first", "end"))
"""Rows of HANGING that hang on one and the same node."""
PIVOT = np.dtype(_small("node", "first", "fill"))
"""The nodes after those in order of elimination, where their rows begin in `around`, `fill`."""
AROUND = np.dtype(_small("node", "lower", "upper"))
"""Neighbours of a pivot and the positions of the two entries that couple them."""


@dataclass(frozen=True, slots=True)
class EliminationRows:
    """Arrays of HANGING (`tips` of which come first), GROUP, PIVOT, AROUND, positions of the
    fill."""

    tips: int
    hanging: np.ndarray
    group: np.ndarray
    pivot: np.ndarray
    around: np.ndarray
    fill: np.ndarray


def elimination_rows(plan: Elimination) -> EliminationRows:
    """Split a plan into nodes that hang on one other, and all that come after them."""
    sizes = np.diff(plan.first)
    meshed = int(np.argmax(sizes > 1)) if np.any(sizes > 1) else len(sizes)
    hanging = [turn for turn in range(meshed) if sizes[turn] == 1]
    others = [turn for turn in range(len(sizes)) if turn >= meshed or sizes[turn] == 0]
    tips, rows, groups = _in_groups(plan, hanging)
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
        np.array(groups, dtype=GROUP),
        np.array(pivots, dtype=PIVOT),
        np.array(around, dtype=AROUND),
        np.array(fill, dtype=np.uint32),
    )


def _in_groups(
    plan: Elimination, turns: list[int]
) -> tuple[int, list[tuple[int, ...]], list[tuple[int, ...]]]:
    """How many are tips, rows of HANGING, rows of GROUP: the tips of each node, then the others,
    each after all that hangs on it."""
    height: Counter[int] = Counter()
    members: dict[tuple[bool, int], list[tuple[int, ...]]] = {}
    for turn in turns:
        at = plan.first[turn]
        node, beside = int(plan.order[turn]), int(plan.neighbour[at])
        height[beside] = max(height[beside], height[node] + 1)
        row = (node, int(plan.lower[at]), int(plan.upper[at]))
        members.setdefault((height[node] > 0, beside), []).append(row)
    hanging: list[tuple[int, ...]] = []
    groups: list[tuple[int, ...]] = []
    for (_, beside), rows in sorted(
        members.items(), key=lambda item: (item[0][0], height[item[0][1]], item[0][1])
    ):
        groups.append((beside, len(hanging), len(hanging) + len(rows)))
        hanging += rows
    tips = sum(len(rows) for (inner, _), rows in members.items() if not inner)
    return tips, hanging, groups
