"""The order in which the unknowns of a circuit are eliminated, worked out once.

Minimum-degree order; the result is a flat program of positions in one array of matrix entries, so
that the time loop follows indices and decides nothing. Entries 0 to n - 1 are the diagonal.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Elimination:
    """Gaussian elimination without exchange of rows, as indices.

    Attributes
    ----------
    order : ndarray (node,)
        Nodes in the order of elimination.
    first : ndarray (node + 1,)
        Where in `neighbour`, `lower`, `upper` the entries of each pivot begin.
    neighbour : ndarray
        Nodes still to come that touch the pivot.
    lower, upper : ndarray
        Positions of the entries (neighbour, pivot) and (pivot, neighbour).
    fill_first : ndarray (node + 1,)
        Where in `fill` each pivot's square of positions begins.
    fill : ndarray
        Positions of (neighbour a, neighbour b), row by row.
    entries : int
        How many matrix entries there are, fill included.
    position : dict of (int, int) to int
        Position of the entry (row, column).
    """

    order: IntArray
    first: IntArray
    neighbour: IntArray
    lower: IntArray
    upper: IntArray
    fill_first: IntArray
    fill: IntArray
    entries: int
    position: dict[tuple[int, int], int]


def plan_elimination(count: int, couplings: Iterable[tuple[int, int]]) -> Elimination:
    """Plan for `count` nodes coupled in these pairs (either order, repeats allowed)."""
    touching: list[set[int]] = [set() for _ in range(count)]
    for a, b in couplings:
        if a != b:
            touching[a].add(b)
            touching[b].add(a)
    position = {(node, node): node for node in range(count)}

    def place(row: int, column: int) -> int:
        return position.setdefault((row, column), len(position))

    for node, others in enumerate(touching):
        for other in sorted(others):
            place(node, other)
    order: list[int] = []
    first, fill_first = [0], [0]
    neighbour: list[int] = []
    lower: list[int] = []
    upper: list[int] = []
    fill: list[int] = []
    left = set(range(count))
    while left:
        pivot = min(left, key=lambda node: (len(touching[node]), node))
        left.remove(pivot)
        around = sorted(touching[pivot])
        order.append(pivot)
        for other in around:
            neighbour.append(other)
            lower.append(place(other, pivot))
            upper.append(place(pivot, other))
            touching[other].discard(pivot)
        for a in around:
            for b in around:
                fill.append(place(a, b))
                if a != b:
                    touching[a].add(b)
        first.append(len(neighbour))
        fill_first.append(len(fill))
    return Elimination(
        order=_ints(order),
        first=_ints(first),
        neighbour=_ints(neighbour),
        lower=_ints(lower),
        upper=_ints(upper),
        fill_first=_ints(fill_first),
        fill=_ints(fill),
        entries=len(position),
        position=position,
    )


def _ints(values: list[int]) -> IntArray:
    return np.array(values, dtype=np.int64)
