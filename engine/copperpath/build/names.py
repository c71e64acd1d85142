"""Who is declared in a file: parts, devices, named values, and the one station block."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from copperpath.build.arithmetic import references_in
from copperpath.build.build_errors import NameTaken, NoStation, SecondStation
from copperpath.build.scope import Scope
from copperpath_grammar.nodes import (
    BondNode,
    CableNode,
    CaseNode,
    Changed,
    ChangeNode,
    ComparisonClaim,
    DataNode,
    DeviceNode,
    FileNode,
    Inside,
    KitNode,
    LetNode,
    NeverNode,
    PartNode,
    PoweredClaim,
    RequireNode,
    Statement,
    StationNode,
)
from copperpath_grammar.value_nodes import Entry

Named = TypeVar("Named", PartNode, DeviceNode, LetNode)


@dataclass(frozen=True, slots=True)
class Declared:
    """The statements of a file, sorted by kind; of doubled names the first stays."""

    station: StationNode | None
    parts: dict[str, PartNode]
    devices: dict[str, DeviceNode]
    values: dict[str, LetNode]
    cables: tuple[CableNode, ...]
    requirements: tuple[RequireNode, ...]
    never: tuple[NeverNode, ...] = ()
    bonds: tuple[BondNode, ...] = ()
    data: tuple[DataNode, ...] = ()


def sort_statements(file: FileNode, scope: Scope) -> Declared:
    """Sort a file's statements; report doubled names and a missing or doubled station block."""
    stations = [s for s in file.statements if isinstance(s, StationNode)]
    for extra in stations[1:]:
        scope.report(SecondStation(extra.title.span, stations[0].title.span))
    if not stations and not scope.may_be_unread("station"):
        start = file.statements[0].span if file.statements else file.span
        scope.report(NoStation(start))
    return Declared(
        stations[0] if stations else None,
        _by_name([s for s in file.statements if isinstance(s, PartNode)], scope),
        _by_name([s for s in file.statements if isinstance(s, DeviceNode)], scope),
        _by_name([s for s in file.statements if isinstance(s, LetNode)], scope),
        tuple(s for s in file.statements if isinstance(s, CableNode)),
        tuple(s for s in file.statements if isinstance(s, RequireNode)),
        tuple(s for s in file.statements if isinstance(s, NeverNode)),
        tuple(s for s in file.statements if isinstance(s, BondNode)),
        tuple(s for s in file.statements if isinstance(s, DataNode)),
    )


def words_used(file: FileNode) -> Iterator[str]:
    """Every word or dotted path that stands in the place of a value, anywhere in the file."""
    for statement in file.statements:
        yield from words_of(statement)


def words_of(statement: Statement | Changed | Inside) -> Iterator[str]:
    """Every word or dotted path that stands in the place of a value in one statement."""
    match statement:
        case LetNode():
            yield from (each.value_name for each in references_in(statement.value))
        case RequireNode(claim=ComparisonClaim(limit=value)):
            yield from (each.value_name for each in references_in(value))
        case RequireNode(claim=PoweredClaim(duration=value)) if value is not None:
            yield from (each.value_name for each in references_in(value))
        case DataNode(body=body) if body is not None:
            yield from _words_in(body.entries)
        case StationNode() | PartNode() | DeviceNode() | CableNode() | KitNode() | ChangeNode():
            yield from _words_in(statement.body.entries)
        case Entry():
            yield from _words_in((statement,))
        case CaseNode():
            for line in statement.lines:
                yield from words_of(line)


def _words_in(entries: Iterable[Entry]) -> Iterator[str]:
    for entry in entries:
        for part in entry.parts:
            yield from (each.value_name for each in references_in(part.value))


def _by_name(statements: list[Named], scope: Scope) -> dict[str, Named]:
    found: dict[str, Named] = {}
    lowered: dict[str, Named] = {}
    for statement in statements:
        name = statement.name.text
        other = lowered.get(name.lower())
        if other is None:
            lowered[name.lower()] = statement
        else:
            first = other.name
            scope.report(NameTaken(statement.name.span, name, first.text, first.span))
        found.setdefault(name, statement)
    return found
