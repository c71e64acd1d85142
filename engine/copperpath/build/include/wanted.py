"""What a station takes from a library: the parts, assemblies and values that something names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from copperpath.build.arithmetic import references_in
from copperpath_grammar.nodes import (
    AssemblyNode,
    AssemblyParameter,
    BondNode,
    CableNode,
    CaseNode,
    Changed,
    ChangeNode,
    ComparisonClaim,
    DataNode,
    DeviceNode,
    Inside,
    KitNode,
    LetNode,
    PartNode,
    PoweredClaim,
    RequireNode,
    Statement,
    StationNode,
)
from copperpath_grammar.value_nodes import Body, Entry, Expression, Index, Reference

Held = LetNode | PartNode | AssemblyNode
"""Statements that a library may hold."""


def wanted_of(library: Iterable[Held], own: Iterable[Statement]) -> list[Held]:
    """The statements of libraries that the station's own ones name, directly or through others."""
    held: dict[str, list[Held]] = {}
    order: dict[int, int] = {}
    for index, statement in enumerate(library):
        held.setdefault(statement.name.text, []).append(statement)
        order[id(statement)] = index
    found: dict[int, Held] = {}
    waiting = [name for statement in own for name in _names_in(statement) if name in held]
    while waiting:
        for statement in held.pop(waiting.pop(), ()):
            found[order[id(statement)]] = statement
            waiting += [name for name in _names_in(statement) if name in held]
    return [found[index] for index in sorted(found)]


def _names_in(statement: Statement | Inside | Changed | AssemblyParameter) -> Iterator[str]:
    """Every name that may be that of a part, an assembly or a value."""
    match statement:
        case PartNode():
            yield statement.model.text
            yield from _in_body(statement.body)
        case DeviceNode():
            yield statement.model.text
            yield from _in_value(statement.count)
            yield from _in_body(statement.body)
        case KitNode():
            yield statement.assembly.text
            yield from _in_value(statement.count)
            yield from _in_body(statement.body)
        case StationNode() | DataNode():
            yield from _in_body(statement.body)
        case CableNode() | ChangeNode():
            yield from _in_indices(statement.start)
            yield from _in_indices(statement.end)
            yield from _in_body(statement.body)
        case BondNode():
            yield from _in_indices(statement.start)
            yield from _in_indices(statement.end)
        case LetNode():
            yield from _in_value(statement.value)
        case AssemblyParameter():
            yield from _in_value(statement.default)
        case RequireNode(claim=ComparisonClaim(limit=value) | PoweredClaim(duration=value)):
            yield from _in_value(value)
        case AssemblyNode():
            for line in (*statement.parameters, *statement.lines):
                yield from _names_in(line)
        case CaseNode():
            for changed in statement.lines:
                yield from _names_in(changed)
        case Entry():
            yield from _in_entry(statement)


def _in_body(body: Body | None) -> Iterator[str]:
    for entry in body.entries if body is not None else ():
        yield from _in_entry(entry)


def _in_entry(entry: Entry) -> Iterator[str]:
    for part in entry.parts:
        yield from _in_value(part.value)


def _in_value(value: Expression | None) -> Iterator[str]:
    if value is not None:
        yield from (each.text for each in references_in(value))


def _in_indices(path: Reference | None) -> Iterator[str]:
    for part in path.parts if path is not None else ():
        if isinstance(part.index, Index):
            yield from _in_value(part.index.first)
            yield from _in_value(part.index.last)
