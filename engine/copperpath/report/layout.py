"""Plain text for a screen of 80 columns: headings, aligned tables, wrapped paragraphs.

Nothing here knows what a station is. Text is made for a UTF-8 terminal; `ascii_only` turns it
into what any terminal can show.
"""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

WIDTH = 80
"""Columns of the narrowest screen that everything must fit."""

SPELLED = str.maketrans(
    {
        "²": "2",
        "³": "3",
        "°": "deg",
        "µ": "u",
        "μ": "u",
        "Ω": "ohm",
        "·": ".",
        "×": "x",
        "−": "-",
        "–": "-",
        "—": "-",
        "…": "...",
        "→": "->",
        "≥": ">=",
        "≤": "<=",
        "≈": "about ",
        "“": '"',
        "”": '"',
        "‘": "'",
        "’": "'",
    }
)
"""ASCII spelling of the signs that messages here use."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its heading with the unit in it, and the side it is aligned to.

    `widest` crops longer cells; 0 leaves them alone.
    """

    heading: str
    right: bool = True
    widest: int = 0


def ascii_only(text: str) -> str:
    """The text in plain ASCII; letters lose their accents, unknown signs become `?`."""
    spelled = unicodedata.normalize("NFKD", text.translate(SPELLED))
    bare = "".join(sign for sign in spelled if not unicodedata.combining(sign))
    return bare.encode("ascii", "replace").decode("ascii")


def visible(text: str) -> str:
    """The text on one line, with control characters (which could move the cursor) taken out."""
    spaced = " ".join(text.split())
    return "".join(sign for sign in spaced if unicodedata.category(sign)[0] != "C")


def cells_of(text: str) -> int:
    """Terminal columns that a text takes up: wide signs count two, combining ones none."""
    return sum(_cells(sign) for sign in text)


def _cells(sign: str) -> int:
    if unicodedata.combining(sign):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def crop(text: str, width: int) -> str:
    """At most `width` columns of a text, its middle left out where it is longer."""
    if cells_of(text) <= width:
        return text
    head = (width - 1) // 2
    tail = width - 1 - head
    return _first_cells(text, head) + "…" + _first_cells(text[::-1], tail)[::-1]


def _first_cells(text: str, width: int) -> str:
    taken, used = [], 0
    for sign in text:
        used += _cells(sign)
        if used > width:
            break
        taken.append(sign)
    return "".join(taken)


def paragraph(text: str, *, indent: str = "  ", hanging: str | None = None) -> list[str]:
    """Lines of at most `WIDTH` columns; `hanging` begins the lines after the first."""
    return textwrap.wrap(
        visible(text),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent if hanging is None else hanging,
        break_on_hyphens=False,
    )


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> list[str]:
    """Lines of a table with its headings, indented by two, never wider than `WIDTH`.

    The first column gives way where the whole would be too wide.
    """
    body = [[visible(cell) for cell in row] for row in rows]
    for row in body:
        for place, column in enumerate(columns):
            if column.widest:
                row[place] = crop(row[place], column.widest)
    widths = [
        max(cells_of(column.heading), *(cells_of(row[place]) for row in body), 0)
        for place, column in enumerate(columns)
    ]
    spare = WIDTH - 2 - sum(widths) - 2 * (len(widths) - 1)
    if spare < 0:
        widths[0] = max(8, widths[0] + spare)
    lines = [_row([column.heading for column in columns], columns, widths)]
    lines += [_row(row, columns, widths) for row in body]
    return lines


def _row(cells: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> str:
    placed = []
    for cell, column, width in zip(cells, columns, widths, strict=True):
        shown = crop(cell, width)
        blanks = " " * (width - cells_of(shown))
        placed.append(blanks + shown if column.right else shown + blanks)
    return ("  " + "  ".join(placed)).rstrip()
