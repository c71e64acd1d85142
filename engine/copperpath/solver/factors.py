"""Gaussian elimination along the planned order, compiled: the matrix first, then a right side.

Apart from each other, so that what is left of a matrix can serve several right sides. Most nodes
hang on one other; they come first and need no inner loops.
"""

from __future__ import annotations

from typing import Any

from copperpath.solver.cache import inlined, inner
from copperpath.solver.constants import LEAK_S


@inner
def mended(pivot: float) -> float:
    """A positive pivot in place of one that has turned (a bus of negative slope), which also
    steers away from unstable points."""
    return max(abs(pivot), 1e-3)


@inlined
def factor_group(c: Any, w: Any, place: int) -> None:
    """Take the entries of nodes that hang on one other out of that one's, pivots inverted."""
    a, group = w.matrix, c.group[place]
    total = 0.0
    for turn in range(group.first, group.end):
        node = c.hanging[turn]
        share = a[node.lower] * w.per_pivot[turn]
        w.share[turn] = share
        total += share * a[node.upper]
    a[group.beside] -= total


@inlined
def invert_tips(c: Any, w: Any) -> int:
    """One over the pivots of the tips, several at once; how many were mended."""
    count = 0
    for turn in range(c.tips):
        pivot = w.matrix[c.hanging[turn].node]
        if not pivot >= 0.5 * LEAK_S:
            pivot = mended(pivot)
            count += 1
        w.per_pivot[turn] = pivot
    for turn in range(c.tips):
        w.per_pivot[turn] = 1.0 / w.per_pivot[turn]
    return count


@inlined
def invert_group(c: Any, w: Any, first: int, end: int) -> int:
    """One over the pivots of some other hanging nodes; how many were mended."""
    count = 0
    for turn in range(first, end):
        pivot = w.matrix[c.hanging[turn].node]
        if not pivot >= 0.5 * LEAK_S:
            pivot = mended(pivot)
            count += 1
        w.per_pivot[turn] = 1.0 / pivot
    return count


@inlined
def factor_meshed(c: Any, w: Any) -> bool:
    """The same for the nodes that are left, with any number of neighbours; True if mended."""
    a = w.matrix
    any_mended = False
    for turn in range(len(c.pivot) - 1):
        pivot, size = c.pivot[turn], c.pivot[turn + 1].first - c.pivot[turn].first
        if not a[pivot.node] >= 0.5 * LEAK_S:
            a[pivot.node] = mended(a[pivot.node])
            any_mended = True
        per_pivot = 1.0 / a[pivot.node]
        w.per_pivot[len(c.hanging) + turn] = per_pivot
        for i in range(size):
            beside = c.around[pivot.first + i]
            share = a[beside.lower] * per_pivot
            a[beside.lower] = share
            for j in range(size):
                upper = c.around[pivot.first + j].upper
                a[c.fill[pivot.fill + i * size + j]] -= share * a[upper]
    return any_mended


@inlined
def factor(c: Any, w: Any) -> bool:
    """Eliminate in `w.matrix`. A pivot below half the leak has turned and is mended; True if one
    was."""
    count = invert_tips(c, w)
    for place in range(len(c.group)):
        group = c.group[place]
        if group.first >= c.tips:
            count += invert_group(c, w, group.first, group.end)
        factor_group(c, w, place)
    if factor_meshed(c, w):
        count += 1
    return bool(count > 0)


@inlined
def substitute(c: Any, w: Any) -> None:
    """The step of each node from `w.rest`, which is used up."""
    a = w.matrix
    hanging = len(c.hanging)
    for place in range(len(c.group)):
        group = c.group[place]
        total = 0.0
        for turn in range(group.first, group.end):
            total += w.share[turn] * w.rest[c.hanging[turn].node]
        w.rest[group.beside] -= total
    for turn in range(len(c.pivot) - 1):
        pivot = c.pivot[turn]
        for entry in range(pivot.first, c.pivot[turn + 1].first):
            beside = c.around[entry]
            w.rest[beside.node] -= a[beside.lower] * w.rest[pivot.node]
    for turn in range(len(c.pivot) - 2, -1, -1):
        pivot = c.pivot[turn]
        total = w.rest[pivot.node]
        for entry in range(pivot.first, c.pivot[turn + 1].first):
            total -= a[c.around[entry].upper] * w.step[c.around[entry].node]
        w.step[pivot.node] = total * w.per_pivot[hanging + turn]
    for place in range(len(c.group) - 1, -1, -1):
        group = c.group[place]
        beside = w.step[group.beside]
        for turn in range(group.first, group.end):
            node = c.hanging[turn]
            w.step[node.node] = (w.rest[node.node] - a[node.upper] * beside) * w.per_pivot[turn]


@inlined
def eliminate(c: Any, w: Any) -> bool:
    """Solve `w.matrix` · `w.step` = `w.rest`; both are used up. True if a pivot was mended."""
    any_mended: bool = factor(c, w)
    substitute(c, w)
    return any_mended


@inner
def hold_port(c: Any, w: Any) -> None:
    """Replace the ports' equations by "no change", so that their voltages stay as set."""
    for k in range(len(c.port_row)):
        w.matrix[c.port_row[k].position] = c.port_row[k].value
    for port in c.port:
        w.rest[port] = 0.0
