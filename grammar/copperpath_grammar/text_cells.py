"""How wide text is on a terminal: wide letters, combining marks, tabs, letters without a shape.

A cell is what one letter looks like, with the marks that sit on it, and its width.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

TAB = "    "
_TOGETHER = re.compile(r"(?:`[^`]*`|\S)+")
UNSHOWABLE = "\N{REPLACEMENT CHARACTER}"


@dataclass(frozen=True, slots=True)
class Cell:
    """One visible letter: its text, its width in columns, and where it stands in the line."""

    text: str
    width: int
    index: int


def cells_of(line: str) -> list[Cell]:
    """The visible letters of one line, in order; marks join the letter before them."""
    cells: list[Cell] = []
    for index, letter in enumerate(line):
        if letter == "\t":
            cells.append(Cell(TAB, len(TAB), index))
        elif unicodedata.category(letter) in ("Mn", "Me") and cells:
            last = cells[-1]
            cells[-1] = Cell(last.text + letter, last.width, last.index)
        elif letter.isprintable() and not unicodedata.combining(letter):
            cells.append(Cell(letter, _width(letter), index))
        elif unicodedata.category(letter) == "Zs":
            cells.append(Cell(" ", 1, index))
        else:  # control and direction signs could upset the terminal
            cells.append(Cell(UNSHOWABLE, 1, index))
    return cells


def width_of(text: str) -> int:
    """Columns that a text without line breaks takes."""
    if _is_plain(text):
        return len(text)
    return sum(cell.width for cell in cells_of(text))


def clean(text: str) -> str:
    """The text as it may be shown on a terminal."""
    if _is_plain(text):
        return text
    return "".join(cell.text for cell in cells_of(text))


def wrap(text: str, width: int) -> list[str]:
    """Break a text at blanks into lines of at most `width` columns; longer words are cut.

    What stands between backticks is there to be copied, and stays on one line if it can.
    """
    lines: list[str] = []
    line, used = "", 0
    for piece in _pieces(clean(text), width):
        size = width_of(piece)
        if line and used + 1 + size > width:
            lines.append(line)
            line, used = piece, size
        else:
            line, used = (f"{line} {piece}", used + 1 + size) if line else (piece, size)
    return [*lines, line] if line else lines


def _pieces(text: str, width: int) -> Iterator[str]:
    """What may not be broken: words, and pieces in backticks with the signs that touch them."""
    for together in _TOGETHER.findall(text):
        words = [together] if width_of(together) <= width else together.split()
        for word in words:
            yield from _cut(word, width)


def _cut(word: str, width: int) -> list[str]:
    """Cut a word that is too wide for any line."""
    if _is_plain(word) and len(word) <= width:
        return [word]
    pieces, piece, used = [], "", 0
    for cell in cells_of(word):
        if piece and used + cell.width > width:
            pieces.append(piece)
            piece, used = "", 0
        piece, used = piece + cell.text, used + cell.width
    return [*pieces, piece]


def _is_plain(text: str) -> bool:
    """True if every letter is one column wide and shown as it is; most texts are, and this is
    known at once."""
    return text.isascii() and text.isprintable()


def _width(letter: str) -> int:
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1
