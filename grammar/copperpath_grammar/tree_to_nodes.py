"""From parser trees to syntax nodes: the only module that looks into a tree of lark.

Literals were checked before (see `token_mistakes`), so nothing can go wrong here.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from lark import Token, Tree

from copperpath_grammar.literals import literal_node
from copperpath_grammar.nodes import (
    Arithmetic,
    Body,
    CableNode,
    Claim,
    ComparisonClaim,
    Coordinate,
    DeviceNode,
    Entry,
    Expression,
    FileNode,
    LetNode,
    Measure,
    Name,
    Negative,
    Number,
    Part,
    PartNode,
    PoweredClaim,
    Range,
    Reference,
    RequireNode,
    Statement,
    StationNode,
    Text,
    VerdictClaim,
)
from copperpath_grammar.source import Source, Span

Child: TypeAlias = "Tree[Token] | Token"

_OPERATORS = {"add": "+", "subtract": "-", "multiply": "*", "divide": "/"}


def file_node(tree: Tree[Token], source: Source) -> FileNode:
    """The node of a whole file."""
    statements = tuple(statement_node(child, source) for child in _trees(tree))
    return FileNode(statements, Span(source, 0, len(source.text)))


def statement_node(tree: Tree[Token], source: Source) -> Statement:
    """The node of one statement."""
    return _STATEMENTS[str(tree.data)](tree, source)


def entry_node(tree: Tree[Token], source: Source) -> Entry:
    """The node of one entry of a body."""
    name = _name(tree.children[0], source)
    parts: list[Part] = []
    joiner, start = "", None
    for child in tree.children[1:]:
        if isinstance(child, Token) and child.type in ("COMMA", "JOINER"):
            joiner = str(child)  # in `, otherwise` the word wins over the comma before it
            start = child if start is None else start
            continue
        value = _expression(child, source)
        if name.text == "place":
            value = _coordinate(value)
        span = _span(start, source).to(value.span) if start is not None else value.span
        parts.append(Part(joiner, value, span))
        joiner, start = "", None
    return Entry(name, tuple(parts), _span(tree, source))


# ---- statements -----------------------------------------------------------------------------


def _station(tree: Tree[Token], source: Source) -> StationNode:
    title, body = tree.children
    return StationNode(_text(title, source), _body(body, source), _span(tree, source))


def _part(tree: Tree[Token], source: Source) -> PartNode:
    name, model, body = tree.children
    names = (_name(name, source), _name(model, source))
    return PartNode(*names, _body(body, source), _span(tree, source))


def _device(tree: Tree[Token], source: Source) -> DeviceNode:
    kind, name, model, body = tree.children
    names = (_name(kind, source), _name(name, source), _name(model, source))
    return DeviceNode(*names, _body(body, source), _span(tree, source))


def _cable(tree: Tree[Token], source: Source) -> CableNode:
    start, end, body = tree.children
    ends = (_reference(start, source), _reference(end, source))
    return CableNode(*ends, _body(body, source), _span(tree, source))


def _let(tree: Tree[Token], source: Source) -> LetNode:
    name, value = tree.children
    return LetNode(_name(name, source), _expression(value, source), _span(tree, source))


def _require(tree: Tree[Token], source: Source) -> RequireNode:
    (child,) = _trees(tree)
    claim = _CLAIMS[str(child.data)](child, source)
    return RequireNode(claim, " ".join(claim.span.text.split()), _span(tree, source))


_STATEMENTS: dict[str, Callable[[Tree[Token], Source], Statement]] = {
    "station": _station,
    "part": _part,
    "device": _device,
    "cable": _cable,
    "let": _let,
    "require": _require,
}


def _powered(tree: Tree[Token], source: Source) -> PoweredClaim:
    subject = _reference(tree.children[0], source)
    # The words themselves are not kept in the tree: `throughout` leaves the subject alone.
    rest = tree.children[1:]
    duration = _expression(rest[0], source) if rest else None
    return PoweredClaim(subject, duration, _span(tree, source))


def _comparison(tree: Tree[Token], source: Source) -> ComparisonClaim:
    subject, operator, limit = tree.children
    return ComparisonClaim(
        _reference(subject, source), str(operator), _expression(limit, source), _span(tree, source)
    )


def _verdict(tree: Tree[Token], source: Source) -> VerdictClaim:
    return VerdictClaim(_name(tree.children[0], source), _span(tree, source))


_CLAIMS: dict[str, Callable[[Tree[Token], Source], Claim]] = {
    "powered": _powered,
    "comparison": _comparison,
    "verdict": _verdict,
}


def _body(child: Child, source: Source) -> Body:
    assert isinstance(child, Tree)
    entries = tuple(entry_node(entry, source) for entry in _trees(child))
    brace = next(token for token in child.children if isinstance(token, Token))
    return Body(entries, _span(brace, source).to(_span(child, source)))


# ---- values ---------------------------------------------------------------------------------


def _expression(child: Child, source: Source) -> Expression:
    if isinstance(child, Token):
        return literal_node(child, source)
    data, span = str(child.data), _span(child, source)
    if data == "reference":
        return _reference(child, source)
    values = [_expression(inner, source) for inner in child.children if _is_value(inner)]
    if data == "range":
        return Range(values[0], values[1], span)
    if data == "negative":
        return _negative(values[0], span)
    return Arithmetic(_OPERATORS[data], values[0], values[1], span)


def _is_value(child: Child) -> bool:
    return isinstance(child, Tree) or child.type != "DOTS"


def _negative(value: Expression, span: Span) -> Expression:
    """`-5 m` is one measure; a minus before anything else stays an operation."""
    if isinstance(value, Number):
        return Number(-value.value, span)
    if isinstance(value, Measure) and value.unit != "AWG":
        return Measure(-value.value, value.unit, span)
    return Negative(value, span)


def _coordinate(value: Expression) -> Expression:
    if isinstance(value, Measure) and value.unit in ("N", "E", "S", "W") and value.value >= 0:
        return Coordinate(value.value, value.unit, value.span)
    return value


def _reference(child: Child, source: Source) -> Reference:
    assert isinstance(child, Tree)
    parts = tuple(_name(part, source) for part in child.children)
    return Reference(parts, _span(child, source))


def _name(child: Child, source: Source) -> Name:
    token = child if isinstance(child, Token) else child.children[0]
    return Name(str(token), _span(token, source))


def _text(child: Child, source: Source) -> Text:
    assert isinstance(child, Token)
    node = literal_node(child, source)
    assert isinstance(node, Text)
    return node


def _trees(child: Child) -> list[Tree[Token]]:
    assert isinstance(child, Tree)
    return [inner for inner in child.children if isinstance(inner, Tree)]


def _span(child: Child, source: Source) -> Span:
    if isinstance(child, Token):
        return Span(source, child.start_pos or 0, child.end_pos or 0)
    return Span(source, child.meta.start_pos, child.meta.end_pos)
