"""Where a piece of text stands: a source and a span of character offsets in it.

Not for reading files from disk; the caller does that and hands the text over.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache


@lru_cache(maxsize=64)
def _line_starts(text: str) -> tuple[int, ...]:
    """Offsets at which the lines of `text` begin."""
    return (0, *(place + 1 for place, letter in enumerate(text) if letter == "\n"))


@dataclass(frozen=True, slots=True)
class Source:
    """One text with the name that people know it by.

    `name` is shown in messages: a path as the caller gave it, or ``<text>``.
    """

    name: str
    text: str

    def line_of(self, offset: int) -> int:
        """Line number, counted from 1, of a character offset."""
        return bisect_right(self._starts(), offset)

    def column_of(self, offset: int) -> int:
        """Column, counted from 1 in characters, of a character offset."""
        return offset - self._starts()[self.line_of(offset) - 1] + 1

    def line_text(self, line: int) -> str:
        """The text of a line (counted from 1) without its line break."""
        starts = self._starts()
        end = starts[line] if line < len(starts) else len(self.text)
        return self.text[starts[line - 1] : end].rstrip("\r\n")

    def line_start(self, line: int) -> int | None:
        """Offset at which a line (counted from 1) begins; None behind the last one."""
        starts = self._starts()
        return starts[line - 1] if line <= len(starts) else None

    def _starts(self) -> tuple[int, ...]:
        return _line_starts(self.text)


@dataclass(frozen=True, slots=True)
class Span:
    """Characters `start` (included) to `end` (excluded) of a source."""

    source: Source
    start: int
    end: int

    @property
    def text(self) -> str:
        """The characters themselves."""
        return self.source.text[self.start : self.end]

    @property
    def line(self) -> int:
        """Line of the first character, counted from 1."""
        return self.source.line_of(self.start)

    @property
    def column(self) -> int:
        """Column of the first character, counted from 1."""
        return self.source.column_of(self.start)

    def to(self, other: Span) -> Span:
        """The span from the start of this one to the end of `other`."""
        return Span(self.source, self.start, max(self.end, other.end))
