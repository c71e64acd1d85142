"""From tokens to marks: the words of a text, its line breaks, and the remarks between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lark import Token

WORD, BREAK, END, REMARK = "word", "break", "end", "remark"
TAB_WIDTH = 8


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing in a text that is not a blank.

    `kind` is `word` (with its `token`), `break` (the end of a line), `end` (a `;`) or `remark`
    (with its `text`, and the `column` it stands in).
    """

    kind: str
    token: Token | None = None
    text: str = ""
    column: int = 0

    @property
    def is_open(self) -> bool:
        """True for `{`."""
        return self.token is not None and self.token.type == "LBRACE"

    @property
    def is_close(self) -> bool:
        """True for `}`."""
        return self.token is not None and self.token.type == "RBRACE"


def marks_of(text: str, tokens: Sequence[Token]) -> list[Mark]:
    """All marks of a text; the lexer drops remarks, so they are looked for between its tokens."""
    return list(_marks(text, tokens))


def _marks(text: str, tokens: Sequence[Token]) -> Iterator[Mark]:
    reached = 0
    for token in tokens:
        start = token.start_pos or 0
        yield from _remark(text, reached, start)
        if token.type == "_NEWLINE":
            yield Mark(BREAK)
        elif token.type == "SEMICOLON":
            yield Mark(END)
        else:
            yield Mark(WORD, token)
        reached = token.end_pos or 0
    yield from _remark(text, reached, len(text))


def _remark(text: str, start: int, end: int) -> Iterator[Mark]:
    """The remark between two tokens, if there is one; it goes to the end of its line."""
    place = text.find("#", start, end) if start < end else -1
    if place >= 0:
        before = text[text.rfind("\n", 0, place) + 1 : place].expandtabs(TAB_WIDTH)
        yield Mark(REMARK, text=text[place:end].rstrip(), column=len(before))
