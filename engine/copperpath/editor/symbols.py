"""What a name stands for, and who declares what: the same name may be a device here, a part there.

Read from the statements that the parser could read.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from copperpath.editor.outline import case_owner
from copperpath_grammar.nodes import (
    AssemblyNode,
    CaseNode,
    DeviceNode,
    ExposeNode,
    FileNode,
    KitNode,
    LetNode,
    PartNode,
)
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Name

Space: TypeAlias = Literal["device", "part", "value", "assembly", "case", "terminal"]
"""Names of different spaces may be alike. Kits are devices, parameters of assemblies values."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A name, and the assembly or case (`case_owner`) in which it is declared ("": the file)."""

    space: Space
    owner: str
    name: str


@dataclass(frozen=True, slots=True)
class Occurrence:
    """One place where a symbol is written; `whole` is the statement, where that declares it."""

    symbol: Symbol
    span: Span
    whole: Span | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """All symbols of a file.

    Attributes
    ----------
    symbols : set of Symbol
        Whatever is declared.
    kits : mapping of (str, str) to str
        The assembly of each kit, by owner and name.
    models : mapping of (str, str) to str
        What stands behind the colon of each device, by owner and name.
    """

    symbols: set[Symbol] = field(default_factory=set)
    kits: dict[tuple[str, str], str] = field(default_factory=dict)
    models: dict[tuple[str, str], str] = field(default_factory=dict)

    def find(self, space: Space, owner: str, name: str) -> Symbol | None:
        """The symbol that a name means inside `owner`; devices of the file are out of the reach
        of assemblies, its values are not."""
        here = Symbol(space, owner, name)
        if here in self.symbols:
            return here
        outside = Symbol(space, "", name)
        walled = space in ("device", "terminal") and Symbol("assembly", "", owner) in self.symbols
        return outside if outside in self.symbols and not walled else None


def table_of(file: FileNode) -> Table:
    """What a file declares."""
    table = Table()
    for statement in file.statements:
        match statement:
            case AssemblyNode():
                owner = statement.name.text
                table.symbols.add(Symbol("assembly", "", owner))
                for parameter in statement.parameters:
                    table.symbols.add(Symbol("value", owner, parameter.name.text))
                _add(table, statement.lines, owner)
            case _:
                _add(table, (statement,), "")
    for statement in file.statements:
        # Once all else is known: what a case declares anew is what the file calls by that name.
        if isinstance(statement, CaseNode):
            table.symbols.add(Symbol("case", "", statement.title.value))
            _add(table, statement.lines, case_owner(statement.title.value), beside=True)
    return table


def name_span(name: Name) -> Span:
    """Where a name stands, without an index behind it."""
    return Span(name.span.source, name.span.start, name.span.start + len(name.text))


def _add(table: Table, lines: Iterable[object], owner: str, *, beside: bool = False) -> None:
    for line in lines:
        found = _declared(line)
        if found is None:
            continue
        space, name = found
        place = "" if beside and Symbol(space, "", name) in table.symbols else owner
        table.symbols.add(Symbol(space, place, name))
        if isinstance(line, KitNode):
            table.kits[place, name] = line.assembly.text
        elif isinstance(line, DeviceNode):
            table.models[place, name] = line.model.text


def _declared(line: object) -> tuple[Space, str] | None:
    match line:
        case LetNode():
            return "value", line.name.text
        case PartNode():
            return "part", line.name.text
        case DeviceNode() | KitNode():
            return "device", line.name.text
        case ExposeNode():
            return "terminal", line.terminal.text
    return None


def places_of(occurrences: Sequence[Occurrence], symbol: Symbol) -> list[Occurrence]:
    """Where a symbol is written, file by file in the order of the text."""
    found = [each for each in occurrences if each.symbol == symbol]
    return sorted(found, key=lambda each: (each.span.source.name, each.span.start))
