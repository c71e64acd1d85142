"""Reading a file that has mistakes: all that can be read is read, each mistake is told once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

from lark import Token, Tree

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.lexing import Stop, closing_brace_after, parse_tokens, span_of
from copperpath_grammar.nodes import (
    AssemblyNode,
    CableNode,
    CaseNode,
    Changed,
    ChangeNode,
    DataNode,
    DeviceNode,
    Inside,
    KitNode,
    PartNode,
    Statement,
    StationNode,
)
from copperpath_grammar.pieces import BEGINNINGS, DECLARING, INSIDE, Piece, Splitter, is_unknown
from copperpath_grammar.source import Source, Span
from copperpath_grammar.statement_hints import statement_mistake, unknown_statement
from copperpath_grammar.syntax_errors import MissingBody, MissingOpening, TooManyMistakes
from copperpath_grammar.syntax_hints import Failure, entry_mistake
from copperpath_grammar.token_mistakes import find_mistake
from copperpath_grammar.tree_to_nodes import changed_node, inside_node, statement_node
from copperpath_grammar.tree_to_values import entry_node
from copperpath_grammar.value_nodes import Body, Entry, Name

MOST_MISTAKES = 50


def recover(
    tokens: Sequence[Token], source: Source, names: frozenset[str]
) -> tuple[tuple[Statement, ...], tuple[Name, ...], tuple[Diagnostic, ...]]:
    """Read what can be read.

    Returns
    -------
    tuple
        The statements that could be read, names of those that could not (see `FileNode.broken`),
        and every mistake in the order of the text.
    """
    reader = _Reader(source, names)
    splitter = Splitter(reader.without_slash_comments(tokens), source)
    splitter.split()
    reader.diagnostics += splitter.diagnostics
    for piece in splitter.pieces:
        if len(reader.diagnostics) > MOST_MISTAKES:
            break
        reader.read(piece)
    ordered = sorted(reader.diagnostics, key=lambda each: each.span.start)
    if len(ordered) > MOST_MISTAKES:
        end = ordered[MOST_MISTAKES].span
        ordered[MOST_MISTAKES:] = [TooManyMistakes(end, MOST_MISTAKES)]
    return tuple(reader.statements), tuple(reader.broken), tuple(ordered)


Line = Statement | Inside | Changed
WITH_BODY = StationNode | PartNode | DeviceNode | KitNode | CableNode | DataNode | ChangeNode


@dataclass(frozen=True, slots=True)
class Place:
    """Where statements stand: which words may begin them, and how they are read there."""

    allowed: frozenset[str]
    rule: str
    node: Callable[[Tree[Token], Source], Line]


FILE = Place(BEGINNINGS, "statement", statement_node)
INNER = {
    "ASSEMBLY": Place(INSIDE["ASSEMBLY"], "inside", inside_node),
    "CASE": Place(INSIDE["CASE"], "changed", changed_node),
}


def _headers(piece: Piece) -> list[list[Token]]:
    """The tokens at which inner statements end."""
    return [[inner.closing] if inner.closing else inner.header for inner in piece.inner]


class _Reader:
    """Reads pieces one after another; the lists grow."""

    def __init__(self, source: Source, names: frozenset[str]) -> None:
        self.source = source
        self.names = names
        self.statements: list[Statement] = []
        self.broken: list[Name] = []
        self.diagnostics: list[Diagnostic] = []
        self.lost = False  # the line before was no whole statement, and this was told

    def without_slash_comments(self, tokens: Sequence[Token]) -> list[Token]:
        """Report comments behind `//`, and go on as if they had a `#`."""
        kept: list[Token] = []
        for token in tokens:
            if token.type != "SLASHES":
                kept.append(token)
                continue
            found = find_mistake([token], self.source, self.names)
            if found is not None:
                self.diagnostics.append(found)
        return kept

    def read(self, piece: Piece) -> None:
        """Read one statement of the file and all that is in it."""
        node = self._node(piece, FILE)
        if isinstance(node, Name):
            self.broken.append(node)
        elif node is not None:
            self.statements.append(cast(Statement, node))

    def _node(self, piece: Piece, place: Place) -> Line | Name | None:
        """A statement with its body; its name if it cannot be read, None if that needs no word."""
        if self.lost and is_unknown(piece, place.allowed) and piece.opening is None:
            return None  # one more line of what was told already
        node = self._statement(piece, place)
        entries, broken = self._entries(piece)
        lines: list[Line] = []
        for each in piece.inner:
            found = self._node(each, INNER[piece.header[0].type])
            if isinstance(found, Name):
                broken.append(found)
            elif found is not None:
                lines.append(found)
        if node is None:
            return self._name_of(piece)
        if piece.opening is None:
            return node
        held = [token for entry in (*piece.entries, *_headers(piece)) for token in entry]
        end = piece.closing or max((piece.opening, *held), key=lambda token: token.end_pos or 0)
        last = span_of(self.source, end)
        span = node.span.to(last)
        if isinstance(node, AssemblyNode):
            return replace(node, lines=cast(Any, tuple(lines)), span=span, broken=tuple(broken))
        if isinstance(node, CaseNode):
            both = sorted((*lines, *entries), key=lambda line: line.span.start)
            return replace(node, lines=cast(Any, tuple(both)), span=span, broken=tuple(broken))
        if not isinstance(node, WITH_BODY):
            return node
        opening = span_of(self.source, piece.opening)
        body = Body(tuple(entries), opening.to(last), tuple(broken))
        return replace(node, body=body, span=span)

    def _statement(self, piece: Piece, place: Place) -> Line | None:
        """The statement with an empty body, or None after saying what is wrong with it."""
        unknown = is_unknown(piece, place.allowed)
        mistake = find_mistake(piece.header, self.source, self.names)
        if mistake is not None:
            self.diagnostics.append(mistake)
            self.lost = unknown
            return None
        if unknown:
            has_body = piece.opening is not None
            self.diagnostics.append(unknown_statement(piece.header, self.source, has_body=has_body))
            self.lost = True
            return None
        self.lost = False
        tokens = list(piece.header)
        if piece.opening is not None:
            tokens += [piece.opening, closing_brace_after(piece.opening)]
        tree = parse_tokens(tokens, place.rule)
        if not isinstance(tree, Stop):
            return place.node(tree, self.source)
        mistake = statement_mistake(Failure(tuple(tokens), tree, self.source))
        self.diagnostics.append(mistake)
        self.lost = isinstance(
            mistake, MissingBody | MissingOpening
        )  # entries may follow that belong to it
        return None

    def _entries(self, piece: Piece) -> tuple[list[Entry], list[Name]]:
        """The entries that can be read, and the names of those that cannot."""
        entries: list[Entry] = []
        broken = [self._name(token) for token in piece.broken]
        for tokens in piece.entries:
            mistake = find_mistake(tokens, self.source, self.names)
            if mistake is None:
                tree = parse_tokens(tokens, "entry")
                if not isinstance(tree, Stop):
                    entries.append(entry_node(tree, self.source))
                    continue
                mistake = entry_mistake(Failure(tuple(tokens), tree, self.source))
            self.diagnostics.append(mistake)
            broken.append(self._name(tokens[0]))
        return entries, broken

    def _name_of(self, piece: Piece) -> Name:
        """By which name others may look for a statement that could not be read."""
        header = piece.header
        if not header:
            return Name("", Span(self.source, 0, 0))
        known = header[0].type in BEGINNINGS - DECLARING
        named = len(header) > 1 and (header[0].type in DECLARING or not known)
        return self._name(header[1] if named and header[1][:1].isidentifier() else header[0])

    def _name(self, token: Token) -> Name:
        text = str(token) if token[:1].isidentifier() else ""
        return Name(text, span_of(self.source, token))
