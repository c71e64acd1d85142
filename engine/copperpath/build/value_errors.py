"""Mistakes about single values: units, dimensions, bounds, arithmetic, hours, words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant, places
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span

MOST_NAMES = 6
"""Names that one message lists; the others are counted."""

# ---- units and bounds -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownUnit(Diagnostic):
    """A unit that is not in the table."""

    unit: str
    near: tuple[str, ...]
    code: ClassVar[str] = "build/unknown-unit"

    @property
    def message(self) -> str:
        return f"`{self.unit}` is not a unit that is known here"

    @property
    def label(self) -> str:
        return f"did you mean {listed(self.near, 'or')}?" if self.near else ""

    @property
    def help(self) -> str:
        return (
            "units are written as on a datasheet, capitals included: V, A, mA, W, Wh, Ah, ohm, "
            "mohm, m, mm2, kg, h, degC, %"
        )


@dataclass(frozen=True, slots=True)
class WrongDimension(Diagnostic):
    """A value of another kind than is wanted."""

    name: str
    takes: str
    example: str
    given: str
    noun: str
    advice: str
    code: ClassVar[str] = "build/wrong-dimension"

    @property
    def message(self) -> str:
        given = (
            f"`{self.given}` has no unit"
            if self.noun == "a plain number"
            else f"`{self.given}` is {self.noun}"
        )
        return f"`{self.name}` takes {self.takes} such as {self.example}; {given}"

    @property
    def help(self) -> str:
        return self.advice or f"write it like `{self.name} {self.example}`"


@dataclass(frozen=True, slots=True)
class OutOfBounds(Diagnostic):
    """A value beyond what the thing can be."""

    name: str
    given: str
    bound: str
    reason: str
    code: ClassVar[str] = "build/out-of-bounds"

    @property
    def message(self) -> str:
        return f"`{self.name}` cannot be {self.given}: it is {self.bound}"

    @property
    def help(self) -> str:
        return self.reason


@dataclass(frozen=True, slots=True)
class NotBelievable(Diagnostic):
    """A value that no radio station has: a unit was mistyped."""

    name: str
    given: str
    limit: str
    code: ClassVar[str] = "build/not-believable"

    @property
    def message(self) -> str:
        return f"`{self.name}` of {self.given} is not believable in a radio station"

    @property
    def help(self) -> str:
        return f"values up to {self.limit} are taken; look at the unit and its first letter"


@dataclass(frozen=True, slots=True)
class NotWhole(Diagnostic):
    """Half a cell."""

    name: str
    given: str
    example: str
    code: ClassVar[str] = "build/not-whole"

    @property
    def message(self) -> str:
        return f"`{self.name}` counts things, so it is a whole number; `{self.given}` is not"

    @property
    def help(self) -> str:
        return f"write it like `{self.name} {self.example}`" if self.example else ""


@dataclass(frozen=True, slots=True)
class LowAboveHigh(Diagnostic):
    """A range that runs backwards."""

    name: str
    low: str
    high: str
    code: ClassVar[str] = "build/low-above-high"

    @property
    def message(self) -> str:
        return f"`{self.name}` goes from low to high, but {self.low} is above {self.high}"

    @property
    def help(self) -> str:
        return f"write `{self.name} {self.high} .. {self.low}` if they are only swapped"


@dataclass(frozen=True, slots=True)
class OneValueWanted(Diagnostic):
    """`receive 0.3 A .. 0.4 A`."""

    name: str
    example: str
    code: ClassVar[str] = "build/one-value-wanted"

    @property
    def message(self) -> str:
        return f"`{self.name}` takes one value, not a range"

    @property
    def help(self) -> str:
        return f"write the value to plan with, such as `{self.name} {self.example}`"


# ---- named values and arithmetic ------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownValue(Diagnostic):
    """A word where a number is wanted, and no `let` of that name."""

    name: str
    near: str
    also: tuple[Span, ...] = ()
    code: ClassVar[str] = "build/unknown-value"

    @property
    def message(self) -> str:
        return f"`{self.name}` is not a named value"

    @property
    def label(self) -> str:
        return meant(self.near) or "a number with its unit is wanted here"

    @property
    def help(self) -> str:
        return f"write the number itself, or name it: `let {self.name.split('.')[0]} = 3.5 m`"

    @property
    def further(self) -> tuple[Label, ...]:
        return places(self.also)


@dataclass(frozen=True, slots=True)
class NotANumber(Diagnostic):
    """A clock time, a text or a range where a number is wanted."""

    given: str
    noun: str
    code: ClassVar[str] = "build/not-a-number"

    @property
    def message(self) -> str:
        return f"a number is wanted here; `{self.given}` is {self.noun}"

    @property
    def help(self) -> str:
        if self.noun == "a text":
            return "write the number and its unit without quotes"
        return "write a number with its unit"


@dataclass(frozen=True, slots=True)
class CannotCombine(Diagnostic):
    """`3 m + 2 A`."""

    operator: str
    left: str
    right: str
    advice: str
    code: ClassVar[str] = "build/cannot-combine"

    @property
    def message(self) -> str:
        match self.operator:
            case "+":
                return f"{self.right} cannot be added to {self.left}"
            case "-":
                return f"{self.right} cannot be subtracted from {self.left}"
            case "*":
                return f"{self.left} cannot be multiplied by {self.right}"
        return f"{self.left} cannot be divided by {self.right}"

    @property
    def help(self) -> str:
        if self.advice or self.operator != "-":
            return self.advice or "both sides must measure the same thing"
        return "both sides must measure the same thing; a span has `..`: `8 degC .. 19 degC`"


@dataclass(frozen=True, slots=True)
class MinusTemperature(Diagnostic):
    """A minus sign before a named or reckoned temperature."""

    code: ClassVar[str] = "build/minus-temperature"

    @property
    def message(self) -> str:
        return "a minus sign cannot stand before a temperature that is named or worked out"

    @property
    def help(self) -> str:
        return "write the number itself, such as `-5 degC`"


@dataclass(frozen=True, slots=True)
class DivisionByZero(Diagnostic):
    """Something over nothing."""

    code: ClassVar[str] = "build/division-by-zero"

    @property
    def message(self) -> str:
        return "this divides by zero"

    @property
    def help(self) -> str:
        return "mend the number behind the `/`"


@dataclass(frozen=True, slots=True)
class TooLarge(Diagnostic):
    """A result beyond any number."""

    code: ClassVar[str] = "build/too-large"

    @property
    def message(self) -> str:
        return "the result is too large to be a number"

    @property
    def help(self) -> str:
        return "look for a unit, an exponent or a digit too many"


@dataclass(frozen=True, slots=True)
class ValueCycle(Diagnostic):
    """Named values that need each other."""

    names: tuple[str, ...]
    code: ClassVar[str] = "build/value-cycle"

    @property
    def message(self) -> str:
        if len(self.names) == 1:
            return f"`{self.names[0]}` is made from itself"
        if len(self.names) > MOST_NAMES:
            first, others = self.names[:MOST_NAMES], len(self.names) - MOST_NAMES
            return f"{listed(first, 'and')} and {others} others are made from each other"
        return f"{listed(self.names)} are made from each other"

    @property
    def help(self) -> str:
        return "one of them must be a number"


@dataclass(frozen=True, slots=True)
class UnusedValue(Diagnostic):
    """A `let` that nothing uses: usually a mistyped name elsewhere."""

    name: str
    code: ClassVar[str] = "build/unused-value"

    @property
    def message(self) -> str:
        return f"`{self.name}` is named here but never used"

    @property
    def help(self) -> str:
        return "take the line out, or write the name where the value belongs"


# ---- words and hours ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownWord(Diagnostic):
    """A word that is not one of the choices; `takes` is said of these where they are too many."""

    name: str
    word: str
    near: str
    words: tuple[str, ...]
    takes: str = ""
    code: ClassVar[str] = "build/unknown-word"

    @property
    def message(self) -> str:
        return f"`{self.name}` does not know `{self.word}`"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        return self.takes or f"it takes {listed(self.words, 'or')}"


@dataclass(frozen=True, slots=True)
class EmptyHours(Diagnostic):
    """`on 06:00 to 06:00`."""

    name: str
    clock: str
    code: ClassVar[str] = "build/empty-hours"

    @property
    def message(self) -> str:
        return f"`{self.name}` begins and ends at {self.clock}: no time, or the whole day?"

    @property
    def help(self) -> str:
        return f"write `{self.name} 00:00 to 24:00` for the whole day, or take the line out"


@dataclass(frozen=True, slots=True)
class NoOtherwise(Diagnostic):
    """A share by hours or days that says nothing on the rest."""

    name: str
    written: str
    dated: bool
    code: ClassVar[str] = "build/no-otherwise"

    @property
    def message(self) -> str:
        rest = "at all other times" if self.dated else "outside these hours"
        return f"`{self.name}` does not say what holds {rest}"

    @property
    def help(self) -> str:
        return f"add it at the end: `{self.name} {self.written}, otherwise 0 %`"


@dataclass(frozen=True, slots=True)
class HoursHidden(Diagnostic):
    """Hours of one day inside hours of every day."""

    name: str
    written: str
    daily: str
    code: ClassVar[str] = "build/hours-hidden"

    @property
    def message(self) -> str:
        return f"{self.written} has no effect: {self.daily} holds on every day, that one too"

    @property
    def help(self) -> str:
        return (
            "hours without a date hold on every day; give those their days too: "
            f"`{self.name} {self.daily} from 2026-06-19 to 2026-06-20`"
        )
