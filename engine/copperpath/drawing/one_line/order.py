"""The order of devices from top to bottom in each column, so that few wires cross.

A wire that passes a column takes a place in it like a device. Columns are sorted by the middle of
what they are wired to, from left to right and back, and the best order found is kept (the method
of Sugiyama, Tagawa and Toda, 1981).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from copperpath.drawing.one_line.scheme import Link, Scheme, terminal_order

SWEEPS = 8


@dataclass(frozen=True, slots=True)
class Cell:
    """A place in a column: a device, or a link that passes; `link` is -1 for a device."""

    name: str
    link: int = -1


@dataclass(frozen=True, slots=True)
class Segment:
    """The part of a link between a column and the next one."""

    link: int
    column: int
    left: Cell
    right: Cell


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells by column in their order, and the segments between columns."""

    scheme: Scheme
    columns: tuple[tuple[Cell, ...], ...]
    segments: tuple[Segment, ...]


def make_grid(scheme: Scheme) -> Grid:
    """Order the columns of a scheme."""
    column = {name: at for at, names in enumerate(scheme.columns) for name in names}
    segments = _segments(scheme.links, column)
    columns = _first_order(scheme, column)
    best, fewest = [list(each) for each in columns], crossings(columns, segments)
    for sweep in range(SWEEPS):
        if not fewest:
            break
        forward = sweep % 2 == 0
        for at in range(len(columns)) if forward else reversed(range(len(columns))):
            _sort(columns, segments, at, from_left=forward)
        found = crossings(columns, segments)
        if found < fewest:
            best, fewest = [list(each) for each in columns], found
    return Grid(scheme, tuple(tuple(each) for each in best), segments)


def crossings(columns: list[list[Cell]], segments: tuple[Segment, ...]) -> int:
    """How many pairs of wires cross."""
    place = {cell: row for cells in columns for row, cell in enumerate(cells)}
    count = 0
    for at in range(len(columns) - 1):
        ends = [(place[s.left], place[s.right]) for s in segments if s.column == at]
        count += sum(
            (one[0] - other[0]) * (one[1] - other[1]) < 0
            for number, one in enumerate(ends)
            for other in ends[:number]
        )
    return count


def _segments(links: tuple[Link, ...], column: dict[str, int]) -> tuple[Segment, ...]:
    found = []
    for number, link in enumerate(links):
        first, last = column[link.left.device], column[link.right.device]
        cells = [
            Cell(link.left.device),
            *(Cell(str(at), number) for at in range(first + 1, last)),
            Cell(link.right.device),
        ]
        found += [Segment(number, first + step, *pair) for step, pair in enumerate(pairwise(cells))]
    return tuple(found)


def _first_order(scheme: Scheme, column: dict[str, int]) -> list[list[Cell]]:
    """As met on the way along the wires, terminal after terminal, from the first device on."""
    columns: list[list[Cell]] = [[] for _ in scheme.columns]
    devices = {device.name: device for device in scheme.station.devices}
    fed = {link.right.device for link in scheme.links}
    right: dict[str, list[tuple[tuple[int, int], int]]] = {name: [] for name in devices}
    for number, link in enumerate(scheme.links):
        key = terminal_order(devices[link.left.device], link.left.terminal)
        right[link.left.device].append((key, number))
    met: set[str] = set()
    # A stack in place of calls within calls: a chain may be long.
    waiting = [(name, -1) for name in reversed(devices)]
    waiting = [each for each in waiting if each[0] in fed] + [
        each for each in waiting if each[0] not in fed
    ]
    while waiting:
        name, through = waiting.pop()
        if through >= 0:
            first = column[scheme.links[through].left.device]
            for at in range(first + 1, column[name]):
                columns[at].append(Cell(str(at), through))
        if name in met:
            continue
        met.add(name)
        columns[column[name]].append(Cell(name))
        for _, number in sorted(right[name], reverse=True):
            waiting.append((scheme.links[number].right.device, number))
    return columns


def _sort(
    columns: list[list[Cell]], segments: tuple[Segment, ...], at: int, *, from_left: bool
) -> None:
    """Sort one column by the middle of its neighbours on one side; the others keep their row."""
    beside = at - 1 if from_left else at + 1
    if not 0 <= beside < len(columns):
        return
    place = {cell: row for row, cell in enumerate(columns[beside])}
    rows: dict[Cell, list[int]] = {}
    for segment in segments:
        if segment.column == min(at, beside):
            mine, other = (
                (segment.right, segment.left) if from_left else (segment.left, segment.right)
            )
            rows.setdefault(mine, []).append(place[other])
    share = len(columns[beside]) / max(len(columns[at]), 1)
    key = {
        cell: sum(rows[cell]) / len(rows[cell]) if cell in rows else row * share
        for row, cell in enumerate(columns[at])
    }
    columns[at].sort(key=lambda cell: key[cell])
