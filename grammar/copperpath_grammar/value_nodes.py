"""The syntax tree below statements: values, and the entries of bodies, with their spans.

Nodes say what was written, not what it means: `12 Ah` is a number and the word `Ah`; whether
a charge is wanted there is decided by the builder. No node refers to the parser library.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from copperpath_grammar.source import Span

# ---- values ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Index:
    """Which of many of one kind: `[3]` (`last` None) or `[1..6]`."""

    first: Expression
    last: Expression | None
    span: Span


@dataclass(frozen=True, slots=True)
class Name:
    """One identifier as written, with which of many it is: `rig`, `handheld[3]`, `[1..6]` (with an
    empty text) in `strip.[1..6]`."""

    text: str
    span: Span
    index: Index | None = None

    @property
    def written(self) -> str:
        """The name with its index, as it stands in the text."""
        return self.text if self.index is None else f"{self.text}{self.index.span.text}"


@dataclass(frozen=True, slots=True)
class Number:
    """A bare number, `0.45`."""

    value: float
    span: Span


@dataclass(frozen=True, slots=True)
class Measure:
    """A number with its unit, one token in the text: `5 m`, `-0.30 %/K`, `14 AWG`, `AWG 14`.

    `unit` is the unit as written (`mm²`, `degC`, `%`); nothing is converted here.
    """

    value: float
    unit: str
    span: Span


@dataclass(frozen=True, slots=True)
class Coordinate:
    """A latitude or longitude, `64.22 N`; `letter` is one of N E S W, `degrees` is unsigned."""

    degrees: float
    letter: str
    span: Span


@dataclass(frozen=True, slots=True)
class Clock:
    """A time of day, `06:00`; 24:00 is allowed as the end of a day."""

    hour: int
    minute: int
    span: Span


@dataclass(frozen=True, slots=True)
class Date:
    """A calendar day, `2026-06-19`."""

    year: int
    month: int
    day: int
    span: Span


@dataclass(frozen=True, slots=True)
class Moment:
    """A day with a time of day and, if written, an offset from UTC in minutes."""

    date: Date
    clock: Clock
    offset_minutes: int | None
    span: Span


@dataclass(frozen=True, slots=True)
class Text:
    """Text in double quotes, without the quotes."""

    value: str
    span: Span


@dataclass(frozen=True, slots=True)
class Reference:
    """A word or a dotted path: `flat`, `ssb`, `run` (a named value), `rig.voltage`, `strip.1`.

    Which of these it is depends on where it stands; the builder decides. `meant` is never written:
    inside a kit the builder notes there the full name of the named value, `table[1].rating`.
    """

    parts: tuple[Name, ...]
    span: Span
    meant: str = ""

    @property
    def text(self) -> str:
        """The path as written, with dots."""
        return ".".join(part.written for part in self.parts)

    @property
    def value_name(self) -> str:
        """The name of the value it is, if it is one."""
        return self.meant or self.text


@dataclass(frozen=True, slots=True)
class Range:
    """Two values with `..` between them: `9 V .. 15 V`."""

    low: Expression
    high: Expression
    span: Span


@dataclass(frozen=True, slots=True)
class Negative:
    """A minus sign before a value that is not a plain number."""

    operand: Expression
    span: Span


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """`left operator right` with operator one of + - * /."""

    operator: str
    left: Expression
    right: Expression
    span: Span


Expression: TypeAlias = (
    Number
    | Measure
    | Coordinate
    | Clock
    | Date
    | Moment
    | Text
    | Reference
    | Range
    | Negative
    | Arithmetic
)

# ---- entries --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Part:
    """One value of an entry and what joins it to the value before.

    `joiner` is `""` for the first (a joining word in `runs on surplus`), else `","` or one of the
    joining words `at from to on every within of otherwise and`. In `2 %, otherwise 5 %` the joiner
    is `otherwise` (the comma before a joining word is allowed and dropped).
    """

    joiner: str
    value: Expression
    span: Span


@dataclass(frozen=True, slots=True)
class Entry:
    """A name and its values on one line of a body: `fuse 10 A at pack`. A flag has no parts."""

    name: Name
    parts: tuple[Part, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Body:
    """The entries between braces, in order.

    `broken` names the entries that could not be read. The parser has complained about them, so
    nobody should call them missing; an empty text stands for an entry whose name is unclear.
    """

    entries: tuple[Entry, ...]
    span: Span
    broken: tuple[Name, ...] = ()
