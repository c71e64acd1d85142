"""What a drawing is made of: lines, shapes and words at places, before any library paints them.

Lengths are in ems (the height of the letters) or millimetres, as the caller says; y grows
downwards.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
Tone: TypeAlias = Literal["ink", "soft", "figure", "danger", "fail", "warn", "note", "paper", ""]
"""What a stroke or a filling is for; `paint.py` knows the shade. "" is none."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points; `weight` counts plain wires, `dashed` is for mains."""

    points: tuple[Point, ...]
    weight: float = 1.0
    tone: Tone = "ink"
    dashed: bool = False
    group: str = ""


@dataclass(frozen=True, slots=True)
class Area:
    """A closed outline, filled or open."""

    points: tuple[Point, ...]
    fill: Tone = "paper"
    tone: Tone = "ink"
    weight: float = 1.0
    group: str = ""


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle, filled or open."""

    middle: Point
    radius: float
    fill: Tone = "paper"
    tone: Tone = "ink"
    weight: float = 1.0
    group: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text; `at` is on its baseline, at its left, middle or right by `align`. `size`
    counts plain letters. `inside` says that it stands inside a symbol, as the G of a generator."""

    at: Point
    text: str
    align: Literal["left", "center", "right"] = "left"
    size: float = 1.0
    bold: bool = False
    tone: Tone = "ink"
    inside: bool = False
    group: str = ""


Mark: TypeAlias = Line | Area | Disc | Words


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle that something takes up."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, slack: float = 0.0) -> bool:
        """True if the two share more than `slack` of width and height."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > slack and down > slack


def moved(marks: Iterable[Mark], x: float, y: float, scale: float = 1.0) -> tuple[Mark, ...]:
    """The same marks, made larger about the origin and then moved."""

    def put(point: Point) -> Point:
        return (x + scale * point[0], y + scale * point[1])

    found: list[Mark] = []
    for mark in marks:
        match mark:
            case Line() | Area():
                found.append(replace(mark, points=tuple(put(point) for point in mark.points)))
            case Disc():
                found.append(replace(mark, middle=put(mark.middle), radius=scale * mark.radius))
            case Words():
                found.append(replace(mark, at=put(mark.at), size=scale * mark.size))
    return tuple(found)


def grouped(marks: Iterable[Mark], group: str) -> tuple[Mark, ...]:
    """The same marks, told to belong to a device or a cable."""
    return tuple(replace(mark, group=group) for mark in marks)
