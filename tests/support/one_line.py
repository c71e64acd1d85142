"""What can be seen wrong in a drawing: words on words, wires through words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from copperpath.drawing.one_line.annotations import annotate
from copperpath.drawing.one_line.ink import Area, Box, Line, Mark, Words
from copperpath.drawing.one_line.letters import box_of
from copperpath.drawing.one_line.sheet import Sheet, make_sheet
from copperpath.plugin_api.rule import Rule
from copperpath.required import BASE
from copperpath.station import Station

SLACK_MM = 0.05
"""Boxes that share less than this only touch."""


def sheet_of(station: Station, case: str = BASE, rules: Sequence[type[Rule]] = ()) -> Sheet:
    """The drawing of a station with its figures."""
    return make_sheet(station, case, annotate(station, rules))


def words_of(sheet: Sheet) -> list[Words]:
    """All lines of text."""
    return [mark for mark in sheet.marks if isinstance(mark, Words)]


def overlapping_words(sheet: Sheet) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes overlap."""
    boxes = [(words.text, box_of(words)) for words in words_of(sheet)]
    return [
        (text, other)
        for number, (text, box) in enumerate(boxes)
        for other, other_box in boxes[:number]
        if box.meets(other_box, SLACK_MM)
    ]


def wires_through_words(sheet: Sheet) -> list[tuple[str, str]]:
    """Texts with a line of another thing, or of their own cable, through their middle."""
    found = []
    strokes = [(mark.group, box) for mark in sheet.marks for box in _strokes(mark)]
    for words in words_of(sheet):
        if words.inside:
            continue
        whole = box_of(words)
        # Letters hardly fill their line: what only grazes its lower or upper edge is no harm.
        low = 0.25 * words.size
        core = Box(whole.left, whole.top + low, whole.right, whole.bottom - low)
        found += [(words.text, group) for group, box in strokes if box.meets(core, -1e-6)]
    return found


def _strokes(mark: Mark) -> list[Box]:
    """The straight upright and level strokes of wires and frames, as flat boxes."""
    if not isinstance(mark, Line | Area) or not mark.group:
        return []
    points: Sequence[tuple[float, float]] = mark.points
    if isinstance(mark, Area):
        points = (*points, points[0])
    return [
        Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
        for a, b in pairwise(points)
        if abs(a[0] - b[0]) < 1e-6 or abs(a[1] - b[1]) < 1e-6
    ]
