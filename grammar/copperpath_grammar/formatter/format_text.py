"""`format_text`: one canonical form of a station file, with every word and remark kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lark import Token

from copperpath_grammar.decoding import LONGEST_TEXT, FileTooLong
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.formatter.columns import column_width, padded, width
from copperpath_grammar.formatter.layout import INDENT, Row, rows_of
from copperpath_grammar.formatter.marks import REMARK, WORD, Mark, marks_of
from copperpath_grammar.formatter.outline import outline_of
from copperpath_grammar.formatter.spacing import written
from copperpath_grammar.lexing import read_tokens
from copperpath_grammar.parser import parse
from copperpath_grammar.source import Span

REMARK_PADDING = 32  # blanks before a remark so that it stands below its neighbours


@dataclass(frozen=True, slots=True)
class Formatted:
    """What became of a text: its canonical form, or the text as it was and its mistakes."""

    text: str
    diagnostics: tuple[Diagnostic, ...]


def format_text(text: str, name: str = "<text>") -> Formatted:
    """The canonical form of a station file.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The name by which people know it, for messages.

    Examples
    --------
    >>> print(format_text("load  lamp:steady {power 3W;on 18:00 to 22:00}").text, end="")
    load lamp : steady { power 3 W; on 18:00 to 22:00 }
    """
    result = parse(text, name)
    if result.diagnostics:
        return Formatted(text, result.diagnostics)
    plain = result.source.text
    tokens = read_tokens(plain)
    lines = _lines(list(rows_of(outline_of(plain, tokens), plain)))
    done = "".join(f"{line}\n" for line in lines)
    if len(done) > LONGEST_TEXT:
        span = Span(result.source, 0, 0)
        return Formatted(text, (FileTooLong(span, len(done), LONGEST_TEXT),))
    if _substance(plain, tokens) != _substance(done, read_tokens(done)):
        raise AssertionError(f"the form of {name} would have other words; it was left as it is")
    return Formatted(done, ())


def _substance(text: str, tokens: Sequence[Token]) -> list[tuple[str, str]]:
    """All words and remarks of a text, without blanks, breaks and `;`.

    A remark before a brace moves behind it, so remarks stand apart, in their own order.
    """

    def one(mark: Mark) -> tuple[str, str]:
        return (mark.token.type, written(mark.token)) if mark.token else ("", mark.text)

    marks = marks_of(text, tokens)
    words = [one(mark) for mark in marks if mark.kind == WORD]
    return words + [one(mark) for mark in marks if mark.kind == REMARK]


# ---- remarks --------------------------------------------------------------------------------


def _lines(rows: Sequence[Row]) -> Iterator[str]:
    """The rows as text, with the remarks of neighbours below each other."""
    place = 0
    remark_at = -1  # column of the remark in the line before, if there is one
    while place < len(rows):
        end = _end_of_neighbours(rows, place)
        codes = [" " * (INDENT * row.depth) + row.code for row in rows[place:end]]
        pairs = list(zip(codes, rows[place:end], strict=True))
        behind = [width(code) for code, row in pairs if row.code and row.remark]
        shared = column_width(behind, REMARK_PADDING)
        for code, row in pairs:
            start = code
            if row.remark and row.code:
                start = padded(code, shared) + "  "
            elif row.follows and remark_at >= 0:
                start = " " * remark_at
            if row.blank_before:
                yield ""
            yield start + row.remark
            remark_at = width(start) if row.remark else -1
        place = end


def _end_of_neighbours(rows: Sequence[Row], place: int) -> int:
    """The end of the rows from a place on that no blank line parts and that are equally far in."""
    end = place + 1
    while end < len(rows) and rows[end].depth == rows[place].depth and not rows[end].blank_before:
        end += 1
    return end
