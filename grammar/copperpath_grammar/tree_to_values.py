"""From parser trees to entries, values and names; statements are in `tree_to_nodes`.

Literals were checked before (see `token_mistakes`), so nothing can go wrong here.
"""

from __future__ import annotations

from typing import TypeAlias

from lark import Token, Tree

from copperpath_grammar.literals import literal_node
from copperpath_grammar.source import Source, Span
from copperpath_grammar.value_nodes import (
    Arithmetic,
    Body,
    Coordinate,
    Entry,
    Expression,
    Index,
    Measure,
    Name,
    Negative,
    Number,
    Part,
    Range,
    Reference,
    Text,
)

Child: TypeAlias = "Tree[Token] | Token"

_OPERATORS = {"add": "+", "subtract": "-", "multiply": "*", "divide": "/"}


def entry_node(tree: Tree[Token], source: Source) -> Entry:
    """The node of one entry of a body."""
    name = name_node(tree.children[0], source)
    parts: list[Part] = []
    joiner, start = "", None
    for child in tree.children[1:]:
        if isinstance(child, Token) and child.type in ("COMMA", "JOINER", "IN"):
            joiner = str(child)  # in `, otherwise` the word wins over the comma before it
            start = child if start is None else start
            continue
        value = expression_node(child, source)
        if name.text == "place":
            value = _coordinate(value)
        span = span_in(start, source).to(value.span) if start is not None else value.span
        parts.append(Part(joiner, value, span))
        joiner, start = "", None
    return Entry(name, tuple(parts), span_in(tree, source))


def body_node(child: Child, source: Source) -> Body:
    """The node of a body, its braces included."""
    assert isinstance(child, Tree)
    entries = tuple(entry_node(entry, source) for entry in trees_in(child))
    brace = next(token for token in child.children if isinstance(token, Token))
    return Body(entries, span_in(brace, source).to(span_in(child, source)))


# ---- values ---------------------------------------------------------------------------------


def expression_node(child: Child, source: Source) -> Expression:
    """The node of a value."""
    if isinstance(child, Token):
        return literal_node(child, source)
    data, span = str(child.data), span_in(child, source)
    if data == "reference":
        return reference_node(child, source)
    values = [expression_node(inner, source) for inner in child.children if _is_value(inner)]
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


def reference_node(child: Child, source: Source) -> Reference:
    """The node of a word or dotted path."""
    assert isinstance(child, Tree)
    parts: list[Name] = []
    for inner in child.children:
        if isinstance(inner, Tree) and inner.data == "index":
            parts[-1] = _indexed(parts[-1], inner, source)
        elif isinstance(inner, Tree) and inner.data == "alone":
            parts.append(_indexed(None, trees_in(inner)[0], source))
        else:
            parts.append(name_node(inner, source))
    return Reference(tuple(parts), span_in(child, source))


def _indexed(name: Name | None, child: Tree[Token], source: Source) -> Name:
    """`handheld` with its `[1..6]`; a name without text if the index stands alone."""
    span = span_in(child, source)
    first, *rest = [expression_node(inner, source) for inner in child.children if _is_value(inner)]
    index = Index(first, rest[0] if rest else None, span)
    return Name("", span, index) if name is None else Name(name.text, name.span.to(span), index)


def name_node(child: Child, source: Source) -> Name:
    """The node of one name."""
    token = child if isinstance(child, Token) else child.children[0]
    return Name(str(token), span_in(token, source))


def text_node(child: Child, source: Source) -> Text:
    """The node of a text in quotes."""
    assert isinstance(child, Token)
    node = literal_node(child, source)
    assert isinstance(node, Text)
    return node


def trees_in(child: Child) -> list[Tree[Token]]:
    """The children of a tree that are trees themselves."""
    assert isinstance(child, Tree)
    return [inner for inner in child.children if isinstance(inner, Tree)]


def span_in(child: Child, source: Source) -> Span:
    """Where a tree or token stands."""
    if isinstance(child, Token):
        return Span(source, child.start_pos or 0, child.end_pos or 0)
    return Span(source, child.meta.start_pos, child.meta.end_pos)
