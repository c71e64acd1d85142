"""How far right each column stands, and where wires step up and down between two of them.

Right of a column each wire has a stretch of its own for terminal, fuse and label, left of the next
one a stretch for fuse and terminal; between the two lie tracks for the steps. All lengths in ems.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import networkx

from copperpath.drawing.one_line.order import Grid, Segment
from copperpath.drawing.one_line.rows import Rows

TRACK = 0.8
"""Between two tracks."""

SAME = 0.55
"""Wires nearer than this in height would be taken for one."""


@dataclass(frozen=True, slots=True)
class Gap:
    """Between two columns: its left and right edge, where the tracks begin, and the place of the
    step of each link that has one."""

    left: float
    tracks: float
    right: float
    steps: Mapping[int, float]


@dataclass(frozen=True, slots=True)
class Across:
    """Left and right edge of each column, the gaps between them, and the whole width."""

    columns: tuple[tuple[float, float], ...]
    gaps: tuple[Gap, ...]
    width: float


def make_across(
    grid: Grid,
    rows: Rows,
    widths: Sequence[float],
    stubs: Sequence[tuple[float, float]],
    spare: float = 0.0,
) -> Across:
    """Put columns of these widths side by side, with stretches `stubs` (left, right) in each gap.
    `spare` is shared out between the gaps."""
    columns, gaps = [], []
    x = 0.0
    for at, width in enumerate(widths):
        columns.append((x, x + width))
        x += width
        if at == len(widths) - 1:
            break
        stepping = [segment for segment in grid.segments if segment.column == at]
        levels = _levels(stepping, rows)
        tracks = max(levels.values(), default=-1) + 1
        left, right = stubs[at]
        first = x + left + spare / (2.0 * (len(widths) - 1))
        end = first + TRACK * (tracks + 1) + right + spare / (2.0 * (len(widths) - 1))
        steps = {link: first + TRACK * (level + 1) for link, level in levels.items()}
        gaps.append(Gap(x, first, end, steps))
        x = end
    return Across(tuple(columns), tuple(gaps), x)


def heights(segment: Segment, rows: Rows) -> tuple[float, float]:
    """Height of the left and of the right end of a segment."""
    ends = []
    for cell, side in ((segment.left, "left"), (segment.right, "right")):
        ends.append(rows.passing[cell] if cell.link >= 0 else rows.ends[segment.link, side])
    return ends[0], ends[1]


def _levels(segments: Sequence[Segment], rows: Rows) -> dict[int, int]:
    """The track of each link that steps, counted from the left.

    Where the right part of one wire would run over the left part of another, the other steps
    first; of two that would cross in one order only, the other order is taken.
    """
    ends = {s.link: heights(s, rows) for s in segments}
    moving = [link for link, (a, b) in ends.items() if abs(a - b) > 1e-3]
    graph: networkx.DiGraph[int] = networkx.DiGraph()
    graph.add_nodes_from(moving)
    wishes = []
    for number, one in enumerate(moving):
        for two in moving[:number]:
            if not _overlap(ends[one], ends[two]):
                continue
            price = _price(ends[one], ends[two]) - _price(ends[two], ends[one])
            first, second = (one, two) if price <= 0 else (two, one)
            wishes.append((-abs(price), first, second))
    for _, first, second in sorted(wishes):
        if networkx.has_path(graph, second, first):
            first, second = second, first
        graph.add_edge(first, second)
    level: dict[int, int] = {}
    for link in networkx.topological_sort(graph):
        level[link] = max((level[each] + 1 for each in graph.predecessors(link)), default=0)
    return level


def _span(ends: tuple[float, float]) -> tuple[float, float]:
    return min(ends), max(ends)


def _overlap(one: tuple[float, float], two: tuple[float, float]) -> bool:
    """True if two steps may not share a track."""
    (top, bottom), (other_top, other_bottom) = _span(one), _span(two)
    return top < other_bottom + SAME and other_top < bottom + SAME


def _price(first: tuple[float, float], second: tuple[float, float]) -> float:
    """What it costs that the first steps left of the second: crossings, and ends that would lie
    on one another."""
    top, bottom = _span(first)
    other_top, other_bottom = _span(second)
    price = 0.0
    # The right part of the first passes the step of the second, and the left part of the second
    # that of the first; both share the stretch between the two tracks.
    price += other_top < first[1] < other_bottom
    price += top < second[0] < bottom
    if abs(first[1] - second[0]) < SAME:
        price += 100.0
    return price
