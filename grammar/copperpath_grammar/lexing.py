"""From text to words, and from words to trees, with one parser built once from `station.lark`.

Not here: what to do when a run of words makes no sense (see `recovery`).
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from pathlib import Path
from typing import Any

from lark import Lark, Token, Tree
from lark.common import LexerConf
from lark.lexer import BasicLexer, Lexer, LexerState, PatternStr
from lark.parsers.lalr_analysis import Shift
from lark.parsers.lalr_interactive_parser import InteractiveParser

from copperpath_grammar.source import Source, Span

NOWHERE = (-1, -1)
START_RULES = ("file", "statement", "inside", "changed", "entry", "unreadable")


class PlainLexer(Lexer):
    """lark's basic lexer without its proof that no two terminals clash, and with a plain loop.

    The proof takes half a second; the tests do it once with the strict build. The loop is what the
    time of a long file goes into.
    """

    __future_interface__ = 2  # lark then hands over its own state of lexing

    def __init__(self, conf: LexerConf) -> None:
        conf.skip_validation = True
        self._lexer = BasicLexer(conf)
        self._words = {
            terminal.pattern.value: terminal.name
            for terminal in conf.terminals
            if isinstance(terminal.pattern, PatternStr)
        }

    def lex(self, lexer_state: LexerState, parser_state: Any) -> Iterator[Token]:
        """Yield the tokens of the text in `lexer_state`."""
        ignored = self._lexer.ignore_types
        (pattern,) = self._lexer.scanner._mres
        line, line_start = 1, 0
        # The terminals leave no letter out, so the matches follow each other without a gap.
        for match in pattern.finditer(lexer_state.text.text):
            kind = match.lastgroup
            if kind in ignored:
                continue
            value, (start, end) = match.group(), match.span()
            if kind == "NAME":
                kind = self._words.get(value, kind)
            column = start - line_start + 1
            yield Token(kind, value, start, line, column, line, column + end - start, end)
            if kind == "_NEWLINE":
                line, line_start = line + 1, end


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
        propagate_positions=False,  # see `parse_tokens`
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


def read_tokens(text: str, most: int | None = None) -> list[Token]:
    """All tokens of a text, or the first so many; the lexer never fails, what it cannot read is a
    token too."""
    reader = lark_parser().parse_interactive(text, start="file")
    # lark ships `lex` without type annotations; the type here is what its documentation promises.
    lex: Callable[[Any], Iterator[Token]] = reader.lexer_thread.lex
    return _open_braces_of_open_texts(islice(lex(reader.parser_state), most))


def parse_tokens(tokens: Sequence[Token], start: str) -> Tree[Token] | Stop:
    """Parse tokens by one of the start rules; a `Stop` tells where that failed.

    This is lark's own loop over its tables with one difference, which makes it several times as
    fast: where things stand in the text is kept beside the values, not worked out of every tree.
    """
    reader = lark_parser().parse_interactive("", start=start)
    conf = reader.parser_state.parse_conf
    states, callbacks = conf.states, conf.callbacks
    rules: dict[int, tuple[Callable[[list[Any]], Any], int, str]] = {}  # by identity: much faster
    stack: list[int] = [conf.start_state]
    values: list[Any] = []
    places: list[tuple[int, int]] = []  # start and end in the text, (-1, -1) of nothing
    last = tokens[-1] if tokens else Token("_NEWLINE", "", 0, 1, 1)
    for index, token in enumerate((*tokens, Token.new_borrow_pos("$END", "", last))):
        while True:
            found = states[stack[-1]].get(token.type)
            if found is None:
                reader.parser_state.state_stack[:] = stack
                reader.parser_state.value_stack[:] = values
                return Stop(index, _expected(reader))
            action, argument = found
            if action is Shift:
                stack.append(argument)
                values.append(token)
                places.append((token.start_pos or 0, token.end_pos or 0))
                break
            known = rules.get(id(argument))
            if known is None:
                known = (callbacks[argument], len(argument.expansion), argument.origin.name)
                rules[id(argument)] = known
            make, size, name = known
            if size == 0:
                value, place = make([]), NOWHERE
            else:
                value = make(values[-size:])
                place = places[-1] if size == 1 else _around(places[-size:])
                del stack[-size:], values[-size:], places[-size:]
            if isinstance(value, Tree) and place is not NOWHERE:
                meta = value.meta
                if meta.empty:  # else it is the tree of a child, which has its own place
                    meta.start_pos, meta.end_pos = place
                    meta.empty = False
            stack.append(states[stack[-1]][name][1])
            values.append(value)
            places.append(place)
            if stack[-1] == conf.end_state and token.type == "$END":
                tree: Tree[Token] = value
                return tree
    raise AssertionError("the end of the text always ends the loop")


def _around(places: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """From the first of some places to the last, those left out that are nowhere."""
    first, last = places[0], places[-1]
    if first is NOWHERE or last is NOWHERE:
        somewhere = [place for place in places if place is not NOWHERE]
        if not somewhere:
            return NOWHERE
        first, last = somewhere[0], somewhere[-1]
    return first[0], last[1]


def _expected(reader: InteractiveParser) -> frozenset[str]:
    # lark ships `accepts` without type annotations too; it returns names of terminals.
    accepts: Callable[[], set[str]] = reader.accepts
    return frozenset(accepts())


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
