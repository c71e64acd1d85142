"""`format_text`: one canonical form of a station file, with every word and remark kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lark import Token

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.formatter.columns import column_width, padded, width
from copperpath_grammar.formatter.layout import INDENT, Row, rows_of
from copperpath_grammar.formatter.marks import REMARK, WORD, Mark, marks_of
from copperpath_grammar.formatter.outline import outline_of
from copperpath_grammar.formatter.spacing import written
from copperpath_grammar.lexing import read_tokens
from copperpath_grammar.parser import LONGEST_TEXT, parse
from copperpath_grammar.source import Span
from copperpath_grammar.syntax_errors import FileTooLong

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
    remark_at = 0
    while place < len(rows):
        end = place + 1
        while end < len(rows) and rows[end].depth == rows[place].depth:
            if rows[end].blank_before:
                break
            end += 1
        codes = [" " * (INDENT * row.depth) + row.code for row in rows[place:end]]
        behind = [
            width(code)
            for code, row in zip(codes, rows[place:end], strict=True)
            if row.code and row.remark
        ]
        shared = column_width(behind, REMARK_PADDING)
        for code, row in zip(codes, rows[place:end], strict=True):
            if row.blank_before:
                yield ""
            if not row.remark:
                yield code
            elif row.follows:
                yield " " * remark_at + row.remark
            elif not row.code:
                remark_at = len(code)
                yield code + row.remark
            else:
                start = padded(code, shared) + "  "
                remark_at = width(start)
                yield start + row.remark
        place = end
