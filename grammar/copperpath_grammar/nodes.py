"""The syntax tree: frozen nodes of statements, each with the span of text it came from.

What stands in them, values and entries, is in `value_nodes`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Body, Entry, Expression, Name, Reference, Text

# ---- statements -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class StationNode:
    """`station "title" { ... }`."""

    title: Text
    body: Body
    span: Span


@dataclass(frozen=True, slots=True)
class PartNode:
    """`part name : model { ... }`, a datasheet written once; `model` may be another part."""

    name: Name
    model: Name
    body: Body
    span: Span


@dataclass(frozen=True, slots=True)
class DeviceNode:
    """`source name : model { ... }`; `kind` is source, converter, storage, block or load. `count`
    is how many of them there are in `load handheld[6] : dock { ... }`."""

    kind: Name
    name: Name
    model: Name
    body: Body
    span: Span
    count: Expression | None = None


@dataclass(frozen=True, slots=True)
class KitNode:
    """`kit name : assembly { ... }`, one or `count` built copies of an assembly; the entries give
    its parameters."""

    name: Name
    assembly: Name
    body: Body
    span: Span
    count: Expression | None = None


@dataclass(frozen=True, slots=True)
class CableNode:
    """`cable start -> end { ... }`."""

    start: Reference
    end: Reference
    body: Body
    span: Span


@dataclass(frozen=True, slots=True)
class LetNode:
    """`let name = expression`."""

    name: Name
    value: Expression
    span: Span


@dataclass(frozen=True, slots=True)
class PoweredClaim:
    """`rig powered throughout` (`duration` None) or `rig powered for 48 h`."""

    subject: Reference
    duration: Expression | None
    span: Span


@dataclass(frozen=True, slots=True)
class VerdictClaim:
    """`require holds`."""

    word: Name
    span: Span


@dataclass(frozen=True, slots=True)
class ComparisonClaim:
    """`subject operator limit` with operator one of < <= > >= (as written)."""

    subject: Reference
    operator: str
    limit: Expression
    span: Span


Claim: TypeAlias = PoweredClaim | VerdictClaim | ComparisonClaim


@dataclass(frozen=True, slots=True)
class InCases:
    """`in every case` (no titles; `word` is then what stands for `every`) or `in case "a", "b"`."""

    word: Name | None
    titles: tuple[Text, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class RequireNode:
    """`require claim`; `text` is all of it as written, blanks made single. `cases` says for which
    cases it holds; None is the station without any change."""

    claim: Claim
    text: str
    span: Span
    cases: InCases | None = None


@dataclass(frozen=True, slots=True)
class NeverNode:
    """`never together rig, relay`: one at most of these is keyed at a time."""

    members: tuple[Reference, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class BondNode:
    """`bond rig to chassis`; `joiner` is the word between, which should be `to`."""

    start: Reference
    joiner: Name
    end: Reference
    span: Span


@dataclass(frozen=True, slots=True)
class DataNode:
    """`data laptop -> rig { ... }`, a data or audio lead; `body` is None if there is none."""

    start: Reference
    end: Reference
    body: Body | None
    span: Span


@dataclass(frozen=True, slots=True)
class IncludeNode:
    """`include "parts/radios.station"`, or `include library "panels"`."""

    library: bool
    path: Text
    span: Span


# ---- assemblies -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ExposeNode:
    """`expose in -> strip.in`: the assembly's terminal `in` is that of its `strip`."""

    terminal: Name
    target: Reference
    span: Span


Inside: TypeAlias = (
    LetNode
    | DeviceNode
    | KitNode
    | CableNode
    | RequireNode
    | NeverNode
    | BondNode
    | DataNode
    | ExposeNode
)


@dataclass(frozen=True, slots=True)
class AssemblyParameter:
    """A value that each kit gives, unless `default` is there."""

    name: Name
    default: Expression | None
    span: Span


@dataclass(frozen=True, slots=True)
class AssemblyNode:
    """`assembly name(parameters) { ... }`: a part of a station, described once.

    `broken` names the lines that could not be read, as `FileNode.broken` does.
    """

    name: Name
    parameters: tuple[AssemblyParameter, ...]
    lines: tuple[Inside, ...]
    span: Span
    broken: tuple[Name, ...] = ()


# ---- cases ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ChangeNode:
    """`change rig { ... }`, or `change cable pack -> strip.in { ... }` (with an `end`)."""

    start: Reference
    end: Reference | None
    body: Body
    span: Span


@dataclass(frozen=True, slots=True)
class Removed:
    """A device, with all its cables, or one cable (with an `end`) that a case is without."""

    start: Reference
    end: Reference | None
    span: Span


@dataclass(frozen=True, slots=True)
class WithoutNode:
    """`without right_blanket, cable strip.2 -> lamp`."""

    removed: tuple[Removed, ...]
    span: Span


Changed: TypeAlias = (
    Entry
    | LetNode
    | PartNode
    | DeviceNode
    | KitNode
    | CableNode
    | NeverNode
    | BondNode
    | DataNode
    | ChangeNode
    | WithoutNode
)


@dataclass(frozen=True, slots=True)
class CaseNode:
    """`case "overcast" { ... }`: the same station with something changed. Entries are those of the
    station's own body. `broken` names the lines that could not be read."""

    title: Text
    lines: tuple[Changed, ...]
    span: Span
    broken: tuple[Name, ...] = ()


Statement: TypeAlias = (
    StationNode
    | PartNode
    | DeviceNode
    | KitNode
    | CableNode
    | LetNode
    | RequireNode
    | NeverNode
    | BondNode
    | DataNode
    | IncludeNode
    | AssemblyNode
    | CaseNode
)


@dataclass(frozen=True, slots=True)
class FileNode:
    """A whole file: its statements in order.

    `broken` names the statements that could not be read: a device or part by its name, others
    by their first word (`station`, `cable`). The parser has complained about them. While it is
    not empty, nobody should complain that something is missing, unknown or unconnected because
    of it: an unread cable may be the one that was looked for.
    """

    statements: tuple[Statement, ...]
    span: Span
    broken: tuple[Name, ...] = ()
