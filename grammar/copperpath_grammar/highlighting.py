"""Colours for station texts: a lexer for Pygments, which finds it by its entry point.

It reads with the words of the grammar itself, so that it knows all that the grammar knows. What it
adds is where a word is a keyword: one that begins a statement is an ordinary name elsewhere.
Nothing here imports this module, and reading a station needs no Pygments.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import ClassVar, TypeAlias

from lark import Token
from pygments.lexer import Lexer
from pygments.token import (
    Comment,
    Error,
    Keyword,
    Name,
    Number,
    Operator,
    Punctuation,
    String,
    Whitespace,
    _TokenType,
)

from copperpath_grammar.lexing import read_tokens
from copperpath_grammar.statement_words import INSIDE_ONLY, STATEMENT_WORDS
from copperpath_grammar.token_mistakes import is_word

Coloured: TypeAlias = tuple[int, _TokenType, str]

BEGINNINGS = {*STATEMENT_WORDS, *INSIDE_ONLY}
WITH_STATEMENTS = {"", *(where.split()[-1] for where in INSIDE_ONLY.values())}
"""The file itself and the statements whose braces hold statements; all others hold entries."""
SECOND_WORDS = {
    "never": "together",
    "include": "library",
    "change": "cable",
    "without": "cable",
}
CLAIM_WORDS = {"POWERED", "THROUGHOUT", "FOR", "IN", "CASE"}
SIGNS = {
    "NUMBER": Number,
    "MEASURE": Number,
    "GAUGE": Number,
    "CLOCK": Number,
    "DATE": Number,
    "MOMENT": Number,
    "TEXT": String,
    "COMPARISON": Operator,
    "ARROW": Operator,
    "DOTS": Operator,
    "EQUAL": Operator,
    "PLUS": Operator,
    "_MINUS": Operator,
    "STAR": Operator,
    "SLASH": Operator,
    "_NEWLINE": Whitespace,
    "OPEN_TEXT": Error,
    "QUOTED": Error,
    "SLASHES": Error,
    "ODD": Error,
}


class StationLexer(Lexer):
    """Tells keywords, names of entries, values and remarks of a station text apart."""

    name = "Station file"
    aliases: ClassVar[list[str]] = ["station"]
    filenames: ClassVar[list[str]] = ["*.station"]

    def get_tokens_unprocessed(self, text: str) -> Iterator[Coloured]:
        """Every piece of the text with its kind; put together they are the text."""
        reached = 0
        place = _Place()
        for token in read_tokens(text):
            start = token.start_pos or 0
            yield from _between(text, reached, start)
            yield start, place.kind(token), str(token)
            reached = start + len(token)
        yield from _between(text, reached, len(text))


def _between(text: str, start: int, end: int) -> Iterator[Coloured]:
    """What the grammar leaves out: blanks, and a remark up to the end of its line."""
    remark = text.find("#", start, end)
    blank_end = end if remark < 0 else remark
    if start < blank_end:
        yield start, Whitespace, text[start:blank_end]
    if remark >= 0:
        yield remark, Comment.Single, text[remark:end]


@dataclass(slots=True)
class _Place:
    """Where in a text we are."""

    owners: list[str] = field(default_factory=lambda: [""])
    """The statements whose braces are open, by their first words."""
    head: str = ""
    """First word of the statement or entry we are in."""
    count: int = 0
    """How many words and signs of it came before."""
    before: str = ""
    """Type of the last of them."""

    def kind(self, token: Token) -> _TokenType:
        """The kind of the next token."""
        if token.type in ("_NEWLINE", "SEMICOLON", "LBRACE", "RBRACE"):
            self._edge(token.type)
            return SIGNS.get(token.type, Punctuation)
        if self.count == 0:
            self.head = str(token)
        kind = self._word(token) if is_word(token) else SIGNS.get(token.type, Punctuation)
        self.count += 1
        self.before = token.type
        return kind

    def _edge(self, sign: str) -> None:
        self.count = 0
        if sign == "LBRACE":
            self.owners.append(self.head)
        elif sign == "RBRACE" and len(self.owners) > 1:
            self.owners.pop()

    def _word(self, token: Token) -> _TokenType:
        if token.type in SIGNS:  # `AWG 14` begins like a word
            return SIGNS[token.type]
        statements = self.owners[-1] in WITH_STATEMENTS
        if self.count == 0:
            return Keyword if statements and token in BEGINNINGS else Name.Attribute
        if self.before == "DOT":
            return Name
        if token.type == "JOINER":
            return Operator.Word
        if not statements or self.head not in BEGINNINGS:
            return Name
        if self.before == "COLON":
            return Name.Class
        second = self.count == 1 or (self.head == "without" and self.before == "COMMA")
        if second and SECOND_WORDS.get(self.head) == token:
            return Keyword
        claim = self.head == "require" and self.count > 1 and token.type in CLAIM_WORDS
        return Keyword if claim else Name
