"""Mistakes about statements, names and entries, one class a mistake.

Mistakes about models are in `model_errors`, about single values in `value_errors`, those of the
site in `site_errors`, those of cables and requirements in `wiring_errors`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span

# ---- statements and names -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class NoStation(Diagnostic):
    """No `station` block in the file."""

    code: ClassVar[str] = "build/no-station"

    @property
    def message(self) -> str:
        return "the file has no `station` block, so it is not known where and when this is"

    @property
    def help(self) -> str:
        return (
            'begin with `station "Heron bog" { ... }`, and between its braces `place`, `starts`, '
            "`lasts`, `sky` and `air`, each on a line of its own"
        )


@dataclass(frozen=True, slots=True)
class SecondStation(Diagnostic):
    """More than one `station` block."""

    first: Span
    code: ClassVar[str] = "build/second-station"

    @property
    def message(self) -> str:
        return "this is the second `station` block; a file describes one station"

    @property
    def help(self) -> str:
        return "put its lines into the first block, or make two files"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "the first one"),)


@dataclass(frozen=True, slots=True)
class NameTaken(Diagnostic):
    """Two declarations of one name."""

    name: str
    other: str
    first: Span
    code: ClassVar[str] = "build/name-taken"

    @property
    def message(self) -> str:
        if self.name != self.other:
            return f"`{self.name}` and `{self.other}` differ only in capital letters"
        return f"`{self.name}` is declared twice"

    @property
    def label(self) -> str:
        return "again here"

    @property
    def help(self) -> str:
        return "give the two different names; a reader must not mistake one for the other"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "first here"),)


@dataclass(frozen=True, slots=True)
class PartHidesModel(Diagnostic):
    """A part with the name of a model."""

    name: str
    code: ClassVar[str] = "build/part-hides-model"

    @property
    def message(self) -> str:
        return f"`{self.name}` is the name of a model; a part needs a name of its own"

    @property
    def help(self) -> str:
        return f"call it by what is printed on it, such as `part {self.name}_12 : ...`"


@dataclass(frozen=True, slots=True)
class PartCycle(Diagnostic):
    """Parts that are made from each other."""

    names: tuple[str, ...]
    code: ClassVar[str] = "build/part-cycle"

    @property
    def message(self) -> str:
        if len(self.names) == 1:
            return f"part `{self.names[0]}` is made from itself"
        after = (*self.names[1:], self.names[0])
        steps = [f"`{one}` from `{other}`" for one, other in zip(self.names, after, strict=True)]
        return f"parts are made from each other: {', '.join(steps)}"

    @property
    def help(self) -> str:
        return "one of them must name a model, such as `photovoltaic` or `lfp`"


# ---- models ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WrongKind(Diagnostic):
    """`load pack : lfp`."""

    name: str
    model: str
    written: str
    wanted: str
    code: ClassVar[str] = "build/wrong-kind"

    @property
    def message(self) -> str:
        wanted = "storage" if self.wanted == "storage" else f"a {self.wanted}"
        written = "storage" if self.written == "storage" else f"a {self.written}"
        return f"`{self.model}` is {wanted}, not {written}"

    @property
    def help(self) -> str:
        return f"write `{self.wanted} {self.name} : {self.model} {{ ... }}`"


@dataclass(frozen=True, slots=True)
class ValuesDisagree(Diagnostic):
    """A model says that its values do not fit each other."""

    parameter: str
    reason: str
    advice: str
    code: ClassVar[str] = "build/values-disagree"

    @property
    def message(self) -> str:
        return f"`{self.parameter}`: {self.reason}"

    @property
    def help(self) -> str:
        return self.advice


@dataclass(frozen=True, slots=True)
class ModelFails(Diagnostic):
    """A model that stumbles over values within its own bounds."""

    model: str
    reason: str
    code: ClassVar[str] = "build/model-fails"

    @property
    def message(self) -> str:
        return f"model `{self.model}` cannot work with these values ({self.reason})"

    @property
    def help(self) -> str:
        return (
            "look for a value that is far too large or too small; if there is none, tell the "
            "author of the model"
        )


@dataclass(frozen=True, slots=True)
class NotOnSurplus(Diagnostic):
    """`runs on surplus` for what cannot be shed."""

    owner: str
    kind: str
    able: tuple[str, ...]
    code: ClassVar[str] = "build/not-on-surplus"

    @property
    def message(self) -> str:
        if self.kind != "load":
            return f"only loads may run on surplus; {self.owner} is no load"
        return f"{self.owner} cannot run on surplus: it has no relay that sheds it"

    @property
    def help(self) -> str:
        return f"take the line out; {listed(self.able)} can"


# ---- entries --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownEntry(Diagnostic):
    """An entry that nothing here takes."""

    name: str
    owner: str
    near: str
    known: tuple[str, ...]
    advice: str
    how: str = ""
    code: ClassVar[str] = "build/unknown-parameter"

    @property
    def message(self) -> str:
        if self.advice:
            return f"`{self.name}` alone can mean several things, so it is not a word here"
        return f"{self.owner} has no `{self.name}`"

    @property
    def label(self) -> str:
        return "" if self.advice else meant(self.near)

    @property
    def help(self) -> str:
        return self.advice or self.how or f"{self.owner} takes {listed(self.known) or 'no values'}"


@dataclass(frozen=True, slots=True)
class DuplicateEntry(Diagnostic):
    """One entry given twice in one body."""

    name: str
    first: Span
    code: ClassVar[str] = "build/duplicate-entry"

    @property
    def message(self) -> str:
        return f"`{self.name}` is given twice"

    @property
    def label(self) -> str:
        return "again here"

    @property
    def help(self) -> str:
        return "keep one of the two"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "first here"),)


@dataclass(frozen=True, slots=True)
class OnAndOff(Diagnostic):
    """Hours given both as on and as off."""

    name: str
    other: str
    first: Span
    code: ClassVar[str] = "build/on-and-off"

    @property
    def message(self) -> str:
        return f"`{self.name}` and `{self.other}` both say when this runs"

    @property
    def help(self) -> str:
        return f"keep one of them; outside the hours of `{self.other}` it is the other way round"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "said here already"),)


@dataclass(frozen=True, slots=True)
class MissingEntry(Diagnostic):
    """A required entry that is not there."""

    name: str
    owner: str
    meaning: str
    example: str
    code: ClassVar[str] = "build/missing-parameter"

    @property
    def message(self) -> str:
        return f"{self.owner} needs `{self.name}`: {self.meaning}"

    @property
    def help(self) -> str:
        return f"add a line such as `{self.example}`"


@dataclass(frozen=True, slots=True)
class WrongForm(Diagnostic):
    """An entry whose values are not of the form it takes: none, too many, joined wrongly."""

    name: str
    takes: str
    example: str
    code: ClassVar[str] = "build/wrong-form"

    @property
    def message(self) -> str:
        return f"`{self.name}` takes {self.takes}"

    @property
    def help(self) -> str:
        return f"write it like `{self.example}`"
