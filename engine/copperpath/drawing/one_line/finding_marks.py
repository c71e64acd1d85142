"""Marks of findings: the level by shape as well as by shade, and a number.

A filled triangle is a danger, a filled square a fail, an open triangle a warning, an open circle
a note. Lengths in ems.
"""

from __future__ import annotations

from copperpath.drawing.one_line.ink import Area, Disc, Mark, Words
from copperpath.drawing.one_line.labels import MARK_SHAPE, SPACE
from copperpath.drawing.one_line.letters import width
from copperpath_grammar.diagnostics import Level

WORDS = {
    Level.DANGER: "danger",
    Level.FAIL: "fail",
    Level.WARN: "warn",
    Level.NOTE: "note",
}


def draw_marks(marks: tuple[tuple[Level, int], ...], x: float, y: float) -> list[Mark]:
    """Shapes with their numbers from x on, on the baseline y."""
    drawn: list[Mark] = []
    for level, number in marks:
        x += SPACE
        drawn.append(shape(level, x, y))
        x += MARK_SHAPE + 0.1
        drawn.append(Words((x, y), str(number), tone="ink"))
        x += width(str(number))
    return drawn


def shape(level: Level, x: float, y: float) -> Mark:
    """The shape of a level, its left lower corner at (x, y)."""
    side = MARK_SHAPE
    triangle = ((x, y), (x + side, y), (x + side / 2.0, y - 0.86 * side))
    if level is Level.DANGER:
        return Area(triangle, "danger", "danger")
    if level is Level.FAIL:
        low, inner = y + 0.02, 0.84 * side
        left = x + (side - inner) / 2.0
        corners = (
            (left, low),
            (left + inner, low),
            (left + inner, low - inner),
            (left, low - inner),
        )
        return Area(corners, "fail", "fail")
    if level is Level.WARN:
        return Area(triangle, "paper", "warn", 1.3)
    return Disc((x + side / 2.0, y - 0.4 * side), 0.42 * side, "paper", "note", 1.3)
