"""How wide a column gets: as wide as its texts, but no few long ones push the rest far away."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from copperpath_grammar.text_cells import width_of


def width(text: str) -> int:
    """Columns on a screen."""
    return len(text) if text.isascii() else width_of(text)


def column_width(widths: Sequence[int], most_padding: int) -> tuple[int, int]:
    """The least and the greatest width of the texts that share a column.

    They are those within `most_padding` of each other that are the most in number; of equal
    numbers the narrower. All others stand as they are.
    """
    ordered = sorted(widths)
    best, found = 0, (0, 0)
    for place, wide in enumerate(ordered):
        first = bisect_left(ordered, wide - most_padding)
        if place - first + 1 > best:
            best, found = place - first + 1, (ordered[first], wide)
    return found


def shares(text: str, column: tuple[int, int]) -> bool:
    """True if a text is one of those that share a column."""
    return column[0] <= width(text) <= column[1]


def padded(text: str, column: tuple[int, int]) -> str:
    """The text with blanks up to the width of its column, if it shares that."""
    return text + " " * (column[1] - width(text)) if shares(text, column) else text
