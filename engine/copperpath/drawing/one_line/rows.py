"""How high each device and each wire end stands, found so that wires run as straight as can be.

A linear program: heights are the unknowns, what must stay apart are bounds, and the sum of all
steps in wires is made least. All lengths in ems, y grows downwards.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import lil_matrix

from copperpath.drawing.one_line.order import Cell, Grid
from copperpath.drawing.one_line.scheme import terminal_order

STRAIGHT = (1.0, 2.0, 4.0)
"""What a step in a wire costs, by how many of its two ends are no device."""

SHORT, LOW = 0.02, 0.05
"""What the length of a body costs, and the height of the whole."""

OFF_MIDDLE = 0.05
"""What a symbol costs that stands beside the middle of its wires."""


ALIGNED = 0.2
"""What it costs that a wire leaves a bus bar at another height than one comes in."""


@dataclass(frozen=True, slots=True)
class Body:
    """How much room a device takes up and down.

    `half` is half the height of its symbol, `over` what stands above symbol and wires, `under`
    what hangs below. A `long` body (bus bar, box) reaches over all its wires; one that is not has
    one height, and its wires join beside it. To a `clear` one wires bring no words.
    """

    half: float
    over: float
    under: float
    long: bool
    clear: bool = False


@dataclass(frozen=True, slots=True)
class Spacing:
    """Least distances: between wires at one device, over and under a wire, between devices."""

    pitch: float
    over: float
    under: float
    between: float


@dataclass(frozen=True, slots=True)
class Rows:
    """Heights: the middle, top and bottom of symbol and wires by device; of the ends of links
    (link, "left" or "right"); of what passes; and of all."""

    middle: dict[str, float]
    top: dict[str, float]
    bottom: dict[str, float]
    ends: dict[tuple[int, str], float]
    passing: dict[Cell, float]
    height: float


@dataclass(slots=True)
class _Program:
    """A linear program while it is written down; not seen outside."""

    costs: list[float] = field(default_factory=list)
    rows: list[dict[int, float]] = field(default_factory=list)
    bounds: list[float] = field(default_factory=list)

    def unknown(self, cost: float = 0.0) -> int:
        """A new unknown, not below zero; its place."""
        self.costs.append(cost)
        return len(self.costs) - 1

    def at_least(self, high: int, low: int, by: float) -> None:
        """high - low >= by"""
        if high == low:
            return
        self.rows.append({low: 1.0, high: -1.0})
        self.bounds.append(-by)

    def beyond(self, place: int, by: float) -> None:
        """place >= by"""
        self.rows.append({place: -1.0})
        self.bounds.append(-by)

    def apart(self, one: int, other: int, cost: float) -> None:
        """Pay for the distance of two unknowns."""
        if one == other:
            return
        gap = self.unknown(cost)
        for sign in (1.0, -1.0):
            self.rows.append({one: sign, other: -sign, gap: -1.0})
            self.bounds.append(0.0)

    def solution(self) -> np.ndarray:
        """Values of the unknowns."""
        if not self.rows:
            return np.zeros(len(self.costs))
        matrix = lil_matrix((len(self.rows), len(self.costs)))
        for number, row in enumerate(self.rows):
            for column, value in row.items():
                matrix[number, column] = value
        within = LinearConstraint(matrix.tocsr(), ub=np.array(self.bounds))
        found = milp(np.array(self.costs), constraints=within)
        # The bounds only say what stands below what, without rings: there always is an answer.
        assert found.success, found.message
        return np.asarray(found.x)


def make_rows(grid: Grid, bodies: dict[str, Body], spacing: Spacing) -> Rows:
    """Heights of everything in a grid."""
    program = _Program()
    height = program.unknown(LOW)
    sides = side_links(grid)
    middle = {name: program.unknown() for name in bodies}
    top = {name: program.unknown() for name in bodies}
    bottom = {name: program.unknown() for name in bodies}
    passing = {
        cell: program.unknown() for cells in grid.columns for cell in cells if cell.link >= 0
    }
    ends: dict[tuple[int, str], int] = {}
    for name, body in bodies.items():
        ends |= _around(program, body, spacing, sides[name], middle[name])
        _reach(
            program,
            body,
            spacing,
            (top[name], middle[name], bottom[name]),
            [ends[each] for side in sides[name] for each in side],
        )
    for cells in grid.columns:
        for one, two in pairwise(cells):
            low = passing[one] if one.link >= 0 else bottom[one.name]
            high = passing[two] if two.link >= 0 else top[two.name]
            under = spacing.under if one.link >= 0 else bodies[one.name].under
            over = 0.5 if two.link >= 0 else bodies[two.name].over
            program.at_least(high, low, under + over + spacing.between)
    for name, body in bodies.items():
        program.at_least(height, bottom[name], body.under)
        program.beyond(top[name], body.over)
    for segment in grid.segments:
        left = passing.get(segment.left, ends.get((segment.link, "left"), 0))
        right = passing.get(segment.right, ends.get((segment.link, "right"), 0))
        free = (segment.left.link >= 0) + (segment.right.link >= 0)
        program.apart(left, right, STRAIGHT[free])
    found = program.solution()
    return Rows(
        {name: float(found[at]) for name, at in middle.items()},
        {name: float(found[at]) for name, at in top.items()},
        {name: float(found[at]) for name, at in bottom.items()},
        {key: float(found[at]) for key, at in ends.items()},
        {cell: float(found[at]) for cell, at in passing.items()},
        float(found[height]),
    )


def side_links(
    grid: Grid,
) -> dict[str, tuple[list[tuple[int, str]], list[tuple[int, str]]]]:
    """The ends of links at each device's left and right side, from top to bottom: in the order of
    what they lead to, then of the terminals."""
    devices = {device.name: device for device in grid.scheme.station.devices}
    place = {cell: row for cells in grid.columns for row, cell in enumerate(cells)}
    found: dict[str, tuple[list[tuple[int, str]], list[tuple[int, str]]]] = {
        name: ([], []) for name in devices
    }
    keys: dict[tuple[int, str], tuple[int, tuple[int, int], int]] = {}
    for segment in grid.segments:
        link = grid.scheme.links[segment.link]
        for cell, other, ref, side in (
            (segment.left, segment.right, link.left, "left"),
            (segment.right, segment.left, link.right, "right"),
        ):
            if cell.link >= 0:
                continue
            end = (segment.link, side)
            order = terminal_order(devices[ref.device], ref.terminal)
            keys[end] = (place[other], order, segment.link)
            # The left end of a link is at the right side of its device.
            found[cell.name][1 if side == "left" else 0].append(end)
    for both in found.values():
        for side_ends in both:
            side_ends.sort(key=lambda end: keys[end])
    return found


def _around(
    program: _Program,
    body: Body,
    spacing: Spacing,
    sides: tuple[list[tuple[int, str]], list[tuple[int, str]]],
    middle: int,
) -> dict[tuple[int, str], int]:
    """The ends of the links at a device, each below the one before."""
    ends: dict[tuple[int, str], int] = {}
    for side in sides:
        if len(side) == 1 and not body.long:
            ends[side[0]] = middle
            continue
        ends |= {end: program.unknown() for end in side}
        for one, two in pairwise(side):
            program.at_least(ends[two], ends[one], spacing.pitch)
        if side and not body.long:
            program.at_least(middle, ends[side[0]], 0.0)
            program.at_least(ends[side[-1]], middle, 0.0)
            for end in (side[0], side[-1]):
                program.apart(middle, ends[end], OFF_MIDDLE)
    if body.long:
        # What comes in straight goes on straight.
        for one, two in zip(*sides, strict=False):
            program.apart(ends[one], ends[two], ALIGNED)
    return ends


def _reach(
    program: _Program,
    body: Body,
    spacing: Spacing,
    places: tuple[int, int, int],
    ends: Iterable[int],
) -> None:
    """Top and bottom of a device reach over its symbol and its wires with their words."""
    top, middle, bottom = places
    program.at_least(middle, top, body.half)
    program.at_least(bottom, middle, body.half)
    for end in ends:
        program.at_least(end, top, 0.0 if body.clear else spacing.over)
        program.at_least(bottom, end, 0.0 if body.clear else spacing.under)
    gap = program.unknown(SHORT)
    program.rows.append({bottom: 1.0, top: -1.0, gap: -1.0})
    program.bounds.append(0.0)
    if body.long:
        program.apart(middle, top, 0.5 * SHORT)
        program.apart(middle, bottom, 0.5 * SHORT)
