"""Inside a kit: the words that are its own named values get their full names noted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from copperpath.build.arithmetic import references_in
from copperpath_grammar.value_nodes import (
    Arithmetic,
    Body,
    Entry,
    Expression,
    Index,
    Name,
    Negative,
    Range,
    Reference,
)


def with_full_names(expression: Expression, values: Mapping[str, str]) -> Expression:
    """The expression with `Reference.meant` set where a word is one of these values."""
    if not values or not any(each.text in values for each in references_in(expression)):
        return expression
    return _renamed(expression, values)


def body_with_full_names(body: Body, values: Mapping[str, str]) -> Body:
    """The same for all entries of a body."""
    if not values:
        return body
    entries = tuple(_entry(entry, values) for entry in body.entries)
    return Body(entries, body.span, body.broken)


def path_with_full_names(path: Reference, values: Mapping[str, str]) -> Reference:
    """The same for the indices of a path."""
    if not values or all(part.index is None for part in path.parts):
        return path
    return replace(path, parts=tuple(_name(part, values) for part in path.parts))


def _name(name: Name, values: Mapping[str, str]) -> Name:
    if name.index is None:
        return name
    first, last, span = name.index.first, name.index.last, name.index.span
    first = with_full_names(first, values)
    last = None if last is None else with_full_names(last, values)
    return Name(name.text, name.span, Index(first, last, span))


def _entry(entry: Entry, values: Mapping[str, str]) -> Entry:
    parts = tuple(replace(part, value=with_full_names(part.value, values)) for part in entry.parts)
    return Entry(entry.name, parts, entry.span)


def _renamed(expression: Expression, values: Mapping[str, str]) -> Expression:
    """Down the left side without recursion: a sum may be very long."""
    pending: list[Arithmetic] = []
    while isinstance(expression, Arithmetic):
        pending.append(expression)
        expression = expression.left
    match expression:
        case Reference() if expression.text in values:
            expression = replace(expression, meant=values[expression.text])
        case Negative():
            inner = with_full_names(expression.operand, values)
            expression = Negative(inner, expression.span)
        case Range():
            low = with_full_names(expression.low, values)
            high = with_full_names(expression.high, values)
            expression = Range(low, high, expression.span)
    for step in reversed(pending):
        right = with_full_names(step.right, values)
        expression = Arithmetic(step.operator, expression, right, step.span)
    return expression
