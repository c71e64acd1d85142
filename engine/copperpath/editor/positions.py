"""Places as editors count them (line, UTF-16 code units) to offsets in a text, and back.

Lines end with a line feed, perhaps after a carriage return; a text has no other line breaks here
(`reading` has brought them to this form).
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.source import Source, Span

_WIDE = 0x10000
"""Characters from here on take two UTF-16 code units."""


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """A line and the code units before the place in that line, both counted from 0."""

    line: int
    character: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """What lies from `start` (included) to `end` (excluded)."""

    start: Position
    end: Position


def offset_at(source: Source, position: Position) -> int:
    """The offset of a place; one behind the end of its line, or of the text, is that end."""
    if position.line < 0:
        return 0
    start = source.line_start(position.line + 1)
    if start is None:
        return len(source.text)
    left = position.character
    for place, letter in enumerate(source.line_text(position.line + 1), start):
        if left <= 0:
            return place
        left -= _units(letter)
    return start + len(source.line_text(position.line + 1))


def position_at(source: Source, offset: int) -> Position:
    """The place of an offset."""
    line, column = source.line_of(offset), source.column_of(offset)
    before = source.text[offset - column + 1 : offset]
    return Position(line - 1, sum(map(_units, before)))


def stretch_of(span: Span) -> Stretch:
    """The places of a span."""
    return Stretch(position_at(span.source, span.start), position_at(span.source, span.end))


def _units(letter: str) -> int:
    return 2 if ord(letter) >= _WIDE else 1
