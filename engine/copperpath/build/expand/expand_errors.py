"""Mistakes about many of one kind: counts, indices, ranges that do not fit each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span


@dataclass(frozen=True, slots=True)
class BadCount(Diagnostic):
    """`load handheld[0] : dock`."""

    name: str
    given: str
    most: int
    code: ClassVar[str] = "build/bad-count"

    @property
    def message(self) -> str:
        return f"there cannot be {self.given} of `{self.name}`"

    @property
    def help(self) -> str:
        return f"the number in brackets is a whole number from 1 to {self.most}: `{self.name}[6]`"


@dataclass(frozen=True, slots=True)
class BadIndex(Diagnostic):
    """`handheld[0]`, `handheld[1.5]`, `strip.[0..4]`."""

    written: str
    given: str
    most: int
    code: ClassVar[str] = "build/bad-index"

    @property
    def message(self) -> str:
        return f"`{self.written}`: {self.given} is not the number of one of them"

    @property
    def help(self) -> str:
        return f"they are counted 1, 2, 3, up to {self.most} at most"


@dataclass(frozen=True, slots=True)
class BeyondCount(Diagnostic):
    """`handheld[7]` of six."""

    name: str
    given: int
    count: int
    declared: Span
    code: ClassVar[str] = "build/beyond-count"

    @property
    def message(self) -> str:
        return f"there is no `{self.name}[{self.given}]`: there are {self.count} of them"

    @property
    def help(self) -> str:
        return f"write `{self.name}[1]` to `{self.name}[{self.count}]`, or raise the number there"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.declared, f"{self.count} of them"),)


@dataclass(frozen=True, slots=True)
class RangeBackwards(Diagnostic):
    """`handheld[6..1]`."""

    low: int
    high: int
    code: ClassVar[str] = "build/range-backwards"

    @property
    def message(self) -> str:
        return f"this range runs backwards, from {self.low} to {self.high}"

    @property
    def help(self) -> str:
        return f"write the lower number first: `[{self.high}..{self.low}]`"


@dataclass(frozen=True, slots=True)
class NotSeveral(Diagnostic):
    """`rig[2]` where there is one rig."""

    name: str
    what: str
    code: ClassVar[str] = "build/not-several"

    @property
    def message(self) -> str:
        return f"`{self.name}` is {self.what}, so it takes no number in brackets"

    @property
    def help(self) -> str:
        if self.what == "one thing":
            return f"write `{self.name}` alone, or declare several of them: `{self.name}[6]`"
        return f"write `{self.name}` alone; several ways of a block are `strip.[1..6]`"


@dataclass(frozen=True, slots=True)
class WhichOfMany(Diagnostic):
    """`handheld` where there are six."""

    name: str
    count: int
    declared: Span
    code: ClassVar[str] = "build/which-of-many"

    @property
    def message(self) -> str:
        return f"there are {self.count} of `{self.name}`; say which"

    @property
    def help(self) -> str:
        return f"write `{self.name}[1]` for one of them, `{self.name}[1..{self.count}]` for all"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.declared, f"{self.count} of them"),)


@dataclass(frozen=True, slots=True)
class CountsDiffer(Diagnostic):
    """`strip.[1..4] -> handheld[1..6]`."""

    start: str
    starts: int
    end: str
    ends: int
    code: ClassVar[str] = "build/counts-differ"

    @property
    def message(self) -> str:
        return (
            f"`{self.start}` means {self.starts} and `{self.end}` means {self.ends}, so they "
            "cannot be matched one to one"
        )

    @property
    def help(self) -> str:
        return (
            "give both ends equally many; an end without a range is one terminal that all the "
            "others go to"
        )


@dataclass(frozen=True, slots=True)
class TooMany(Diagnostic):
    """More devices, or more lines, than one station can have."""

    what: str
    most: int
    code: ClassVar[str] = "build/too-many"

    @property
    def message(self) -> str:
        most = f"{self.most:,}".replace(",", " ")
        return f"with this the station gets more than {most} {self.what}"

    @property
    def help(self) -> str:
        return (
            "look for a number in brackets that is too large, or for kits in kits that multiply "
            "each other"
        )


@dataclass(frozen=True, slots=True)
class NameTooLong(Diagnostic):
    """A name that nobody could read."""

    most: int
    code: ClassVar[str] = "build/name-too-long"

    @property
    def message(self) -> str:
        return f"with the kits around it this name is longer than {self.most} letters"

    @property
    def help(self) -> str:
        return "choose shorter names"
