"""From text to words, and from words to trees, with one parser built once from `station.lark`.

Not here: what to do when a run of words makes no sense (see `recovery`).
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from lark import Lark, Token, Tree, UnexpectedToken
from lark.common import LexerConf
from lark.lexer import BasicLexer, Lexer, LexerState
from lark.parsers.lalr_interactive_parser import InteractiveParser

from copperpath_grammar.source import Source, Span

START_RULES = ("file", "statement", "inside", "changed", "entry", "unreadable")


class PlainLexer(Lexer):
    """lark's basic lexer without its proof that no two terminals clash.

    That proof takes half a second; the tests do it once with the strict build.
    """

    __future_interface__ = 2  # lark then hands over its own state of lexing

    def __init__(self, conf: LexerConf) -> None:
        conf.skip_validation = True
        self._lexer = BasicLexer(conf)

    def lex(self, lexer_state: LexerState, parser_state: Any) -> Iterator[Token]:
        """Yield the tokens of the text in `lexer_state`."""
        return self._lexer.lex(lexer_state, parser_state)


@lru_cache(maxsize=1)
def grammar_text() -> str:
    """Text of the reference grammar."""
    return Path(__file__).with_name("station.lark").read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def lark_parser() -> Lark:
    """The one parser, made when first wanted.

    Building it takes 50 to 150 ms; its tables are kept in the user's cache, from which they
    come back in 10 ms. A file there that is damaged or of another version is replaced.
    """
    return Lark(
        grammar_text(),
        parser="lalr",
        lexer=PlainLexer,
        start=list(START_RULES),
        propagate_positions=True,
        maybe_placeholders=False,
        cache=_tables_file() or False,
    )


def _tables_file() -> str | None:
    """Where the tables of the parser are kept; None if the user has no place for such files."""
    named = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    try:
        folder = (Path(named) if named else Path.home() / ".cache") / "copperpath"
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except (OSError, RuntimeError):  # a read-only disk, or a user without a home
        return None
    return str(folder / f"grammar-{sys.version_info[0]}.{sys.version_info[1]}.tables")


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a run of tokens stopped making sense.

    Attributes
    ----------
    index : int
        Index of the first token that does not fit; the number of tokens if more should follow.
    expected : frozenset of str
        Names of the terminals that would fit there.
    """

    index: int
    expected: frozenset[str]


def read_tokens(text: str) -> list[Token]:
    """All tokens of a text; the lexer never fails, what it cannot read is a token too."""
    reader = lark_parser().parse_interactive(text, start="file")
    # lark ships `lex` without type annotations, and strict checking refuses every call of such a
    # method; the declared type of `words` is what lark's documentation promises.
    words: Iterator[Token] = reader.lexer_thread.lex(reader.parser_state)  # type: ignore[no-untyped-call]
    return _open_braces_of_open_texts(words)


def parse_tokens(tokens: Sequence[Token], start: str) -> Tree[Token] | Stop:
    """Parse tokens by one of the start rules; a `Stop` tells where that failed."""
    reader = lark_parser().parse_interactive("", start=start)
    for index, token in enumerate(tokens):
        try:
            reader.feed_token(token)
        except UnexpectedToken:
            return Stop(index, _expected(reader))
    last = tokens[-1] if tokens else Token("_NEWLINE", "", 0, 1, 1)
    try:
        tree: Tree[Token] = reader.feed_token(Token.new_borrow_pos("$END", "", last))
    except UnexpectedToken:
        return Stop(len(tokens), _expected(reader))
    return tree


def _expected(reader: InteractiveParser) -> frozenset[str]:
    # lark ships `accepts` without type annotations too; it returns names of terminals.
    return frozenset(reader.accepts())  # type: ignore[no-untyped-call]


def span_of(source: Source, first: Token, last: Token | None = None) -> Span:
    """The span from a token to another, or of one token."""
    return Span(source, first.start_pos or 0, (last or first).end_pos or 0)


def _open_braces_of_open_texts(tokens: Iterator[Token]) -> list[Token]:
    """Give a brace at the end of an unclosed text a token of its own.

    In `station "Bog {` the brace was surely meant as one; taking it for text would make
    every line of the body look wrong as well.
    """
    found: list[Token] = []
    for token in tokens:
        found.append(token)
        if token.type != "OPEN_TEXT":
            continue
        bare = token.value.rstrip()
        if len(bare) < 2 or bare[-1] not in "{}":
            continue
        start = (token.start_pos or 0) + len(bare) - 1
        found[-1] = _made("OPEN_TEXT", bare[:-1].rstrip(), token, token.start_pos or 0)
        found.append(_made("LBRACE" if bare[-1] == "{" else "RBRACE", bare[-1], token, start))
    return found


def _made(kind: str, value: str, near: Token, start: int) -> Token:
    """A token with its own place in the text."""
    column = (near.column or 1) + start - (near.start_pos or 0)
    return Token(
        kind,
        value,
        start_pos=start,
        line=near.line,
        column=column,
        end_line=near.line,
        end_column=column + len(value),
        end_pos=start + len(value),
    )


def closing_brace_after(token: Token) -> Token:
    """A closing brace of no width after a token, for a body that was left open."""
    return _made("RBRACE", "", token, token.end_pos or 0)
