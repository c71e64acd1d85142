"""Mistakes about `never together`, bonds and data leads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span

MOST_NAMED = 5

# ---- never together -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class NotARadio(Diagnostic):
    """Something that is never keyed."""

    name: str
    model: str
    radios: tuple[str, ...]
    code: ClassVar[str] = "build/not-a-radio"

    @property
    def message(self) -> str:
        return f"`{self.name}` is a `{self.model}`, which is not keyed"

    @property
    def help(self) -> str:
        if not self.radios:
            return "`never together` is for radios; this station has none"
        return f"`never together` is for radios, here {listed(self.radios[:MOST_NAMED])}"


@dataclass(frozen=True, slots=True)
class NamedTwice(Diagnostic):
    """One radio twice in one list."""

    name: str
    first: Span
    code: ClassVar[str] = "build/named-twice"

    @property
    def message(self) -> str:
        return f"`{self.name}` is named twice here"

    @property
    def help(self) -> str:
        return "name each radio once"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "first here"),)


@dataclass(frozen=True, slots=True)
class InTwoGroups(Diagnostic):
    """One radio in two `never together` lines."""

    name: str
    first: Span
    code: ClassVar[str] = "build/in-two-groups"

    @property
    def message(self) -> str:
        return f"`{self.name}` stands in two `never together` lines"

    @property
    def help(self) -> str:
        return (
            "a radio can be in one: name all of them in one line, if no two of them are ever "
            "keyed at once, or leave it out of one line, which counts more of them as keyed"
        )

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "it is here already"),)


@dataclass(frozen=True, slots=True)
class OneAlone(Diagnostic):
    """`never together rig`."""

    name: str
    code: ClassVar[str] = "build/one-alone"

    @property
    def message(self) -> str:
        return f"`{self.name}` stands alone; two radios or more are never keyed together"

    @property
    def help(self) -> str:
        return f"name the others too: `never together {self.name}, ...`"


# ---- bonds and data leads -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WrongJoiner(Diagnostic):
    """`bond rig at chassis`."""

    start: str
    word: str
    end: str
    code: ClassVar[str] = "build/bond-without-to"

    @property
    def message(self) -> str:
        return f"a bond goes from one thing `to` another, not `{self.word}` it"

    @property
    def help(self) -> str:
        return f"write `bond {self.start} to {self.end}`"


@dataclass(frozen=True, slots=True)
class NotABondEnd(Diagnostic):
    """A bond to something that is neither a device nor a known place."""

    name: str
    near: str
    places: tuple[str, ...]
    other: str
    first: bool
    code: ClassVar[str] = "build/not-a-bond-end"

    @property
    def message(self) -> str:
        if self.first:
            return f"a bond begins at a device; there is no device `{self.name}`"
        return f"`{self.name}` is neither a device nor a place that a bond can go to"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        if self.first and self.name in self.places:
            return f"put the device first: `bond {self.other} to {self.name}`"
        return f"a bond goes from a device to a device, or to {listed(self.places, 'or')}"


@dataclass(frozen=True, slots=True)
class SameEnds(Diagnostic):
    """A bond or a data lead from a device to itself."""

    what: str
    name: str
    code: ClassVar[str] = "build/same-ends"

    @property
    def message(self) -> str:
        return f"this {self.what} begins and ends at `{self.name}`"

    @property
    def help(self) -> str:
        return "name another device at one end"
