"""Gaussian elimination along the planned order, compiled: the matrix first, then a right side.

Apart from each other, so that what is left of a matrix can serve several right sides. Most nodes
hang on one other; they come first and need no inner loops.
"""

from __future__ import annotations

from typing import Any

from copperpath.solver.cache import compiled, inlined
from copperpath.solver.constants import LEAK_S


@compiled
def mended(pivot: float) -> float:
    """A positive pivot in place of one that has turned (a bus of negative slope), which also
    steers away from unstable points."""
    return max(abs(pivot), 1e-3)


@inlined
def factor_hanging(c: Any, w: Any, first: int, end: int) -> None:
    """Take the entries of nodes that hang on one other out of that one's, pivots inverted."""
    a = w.matrix
    for turn in range(first, end):
        node = c.hanging[turn]
        share = a[node.lower] * w.per_pivot[turn]
        w.share[turn] = share
        a[node.beside] -= share * a[node.upper]


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
    any_mended = False
    for turn in range(c.tips):
        pivot = w.matrix[c.hanging[turn].node]
        if not pivot >= 0.5 * LEAK_S:
            pivot = mended(pivot)
            any_mended = True
        w.per_pivot[turn] = pivot
    for turn in range(c.tips):
        w.per_pivot[turn] = 1.0 / w.per_pivot[turn]
    factor_hanging(c, w, 0, c.tips)
    for turn in range(c.tips, len(c.hanging)):
        pivot = w.matrix[c.hanging[turn].node]
        if not pivot >= 0.5 * LEAK_S:
            pivot = mended(pivot)
            any_mended = True
        w.per_pivot[turn] = 1.0 / pivot
        factor_hanging(c, w, turn, turn + 1)
    if factor_meshed(c, w):
        any_mended = True
    return any_mended


@inlined
def substitute(c: Any, w: Any) -> None:
    """The step of each node from `w.rest`, which is used up."""
    a = w.matrix
    hanging = len(c.hanging)
    for turn in range(hanging):
        node = c.hanging[turn]
        w.rest[node.beside] -= w.share[turn] * w.rest[node.node]
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
    for turn in range(hanging - 1, -1, -1):
        node = c.hanging[turn]
        rest = w.rest[node.node] - a[node.upper] * w.step[node.beside]
        w.step[node.node] = rest * w.per_pivot[turn]


@inlined
def eliminate(c: Any, w: Any) -> bool:
    """Solve `w.matrix` · `w.step` = `w.rest`; both are used up. True if a pivot was mended."""
    any_mended: bool = factor(c, w)
    substitute(c, w)
    return any_mended


@compiled
def hold_port(c: Any, w: Any) -> None:
    """Replace the ports' equations by "no change", so that their voltages stay as set."""
    for k in range(len(c.port_row)):
        w.matrix[c.port_row[k].position] = c.port_row[k].value
    for port in c.port:
        w.rest[port] = 0.0
