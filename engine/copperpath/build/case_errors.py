"""Mistakes about cases, and about requirements that speak of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span


@dataclass(frozen=True, slots=True)
class SecondCase(Diagnostic):
    """Two cases of one title."""

    title: str
    first: Span
    code: ClassVar[str] = "build/second-case"

    @property
    def message(self) -> str:
        return f'there are two cases "{self.title}"'

    @property
    def label(self) -> str:
        return "again here"

    @property
    def help(self) -> str:
        return "give each case a title of its own, or put the lines of both into one"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "first here"),)


@dataclass(frozen=True, slots=True)
class BadTitle(Diagnostic):
    """A title that is empty, or means the station itself."""

    title: str
    code: ClassVar[str] = "build/bad-case-title"

    @property
    def message(self) -> str:
        if self.title:
            return f'"{self.title}" is what the station without any change is called'
        return "this case has no title"

    @property
    def help(self) -> str:
        return 'say in a few words what is different, such as `case "overcast" { ... }`'


@dataclass(frozen=True, slots=True)
class EmptyCase(Diagnostic):
    """A case that changes nothing."""

    title: str
    code: ClassVar[str] = "build/empty-case"

    @property
    def message(self) -> str:
        return f'case "{self.title}" changes nothing'

    @property
    def help(self) -> str:
        return "write what is different, such as `sky 30 % of clear` or `without lamp`"


@dataclass(frozen=True, slots=True)
class EmptyChange(Diagnostic):
    """A `change` with nothing in it."""

    what: str
    code: ClassVar[str] = "build/empty-change"

    @property
    def message(self) -> str:
        return f"nothing of {self.what} is changed"

    @property
    def help(self) -> str:
        return "write between the braces what is different, such as `length 2 m`, or take it out"


@dataclass(frozen=True, slots=True)
class TooManyCases(Diagnostic):
    """More cases than anybody reads, or cases of a very large station."""

    most: int
    things: int
    code: ClassVar[str] = "build/too-many-cases"

    @property
    def message(self) -> str:
        if self.things:
            return (
                f"with this case there are more than {self.things} devices, cables and "
                "requirements to be built, counted anew in every case"
            )
        return f"a file has {self.most} cases at most; this is one more"

    @property
    def help(self) -> str:
        return "leave cases out, or put some of them into a second file of the same station"


@dataclass(frozen=True, slots=True)
class AlreadyThere(Diagnostic):
    """A device, kit or cable added by a case that the station has already."""

    what: str
    change: str
    first: Span
    code: ClassVar[str] = "build/already-there"

    @property
    def message(self) -> str:
        return f"the station has {self.what} already, so a case cannot add it"

    @property
    def help(self) -> str:
        return f"write `{self.change} {{ ... }}` to change it, or give a new thing a new name"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "it is here"),)


@dataclass(frozen=True, slots=True)
class NothingToChange(Diagnostic):
    """`change` or `without` of something that the station has not got."""

    name: str
    near: str
    code: ClassVar[str] = "build/nothing-to-change"

    @property
    def message(self) -> str:
        return f"the station has no `{self.name}` that a case could change or leave out"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        return "" if self.near else "name a device or a kit, or `cable A -> B` for a cable"


@dataclass(frozen=True, slots=True)
class NoSuchCable(Diagnostic):
    """A cable that is not there."""

    start: str
    end: str
    near: tuple[str, ...]
    code: ClassVar[str] = "build/no-such-cable"

    @property
    def message(self) -> str:
        return f"there is no cable from `{self.start}` to `{self.end}`"

    @property
    def label(self) -> str:
        return ""

    @property
    def help(self) -> str:
        if self.near:
            return f"cables there are: {listed(self.near)}"
        return "name both ends as the cable's own line does"


@dataclass(frozen=True, slots=True)
class NoSuchKitValue(Diagnostic):
    """`change` of a kit with an entry that is no parameter of its assembly."""

    kit: str
    name: str
    near: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/no-such-kit-value"

    @property
    def message(self) -> str:
        return f"the kit `{self.kit}` has no value `{self.name}` that could be changed"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        known = f"it has {listed(self.known)}; " if self.known else ""
        return f"{known}to change a device in it write `change {self.kit}.DEVICE {{ ... }}`"


@dataclass(frozen=True, slots=True)
class UnknownCase(Diagnostic):
    """A requirement that names a case that is not there."""

    title: str
    near: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/unknown-case"

    @property
    def message(self) -> str:
        return f'there is no case "{self.title}" in this file'

    @property
    def label(self) -> str:
        return f'did you mean "{self.near}"?' if self.near else ""

    @property
    def help(self) -> str:
        if self.known:
            return "the cases are " + ", ".join(f'"{title}"' for title in self.known)
        return f'write one: `case "{self.title}" {{ ... }}`, or leave `in case` out'


@dataclass(frozen=True, slots=True)
class WrongWordOfCases(Diagnostic):
    """`in of case`: another word than `every`."""

    word: str
    code: ClassVar[str] = "build/in-every-case"

    @property
    def message(self) -> str:
        return f"`in {self.word} case` is not understood"

    @property
    def label(self) -> str:
        return "`every` stands here"

    @property
    def help(self) -> str:
        return 'write `in every case`, or name some: `in case "overcast"`'


@dataclass(frozen=True, slots=True)
class LeftOutThere(Diagnostic):
    """A requirement on something in a case that is without it."""

    name: str
    title: str
    case: Span
    code: ClassVar[str] = "build/left-out-there"

    @property
    def message(self) -> str:
        return f'case "{self.title}" is without `{self.name}`, so nothing can be required of it'

    @property
    def help(self) -> str:
        return "take this case out of the requirement"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.case, "this case"),)


@dataclass(frozen=True, slots=True)
class OnlyInCase(Diagnostic):
    """A mistake that a line outside a case makes only there."""

    inner: Diagnostic
    title: str
    case: Span
    code: ClassVar[str] = "build/only-in-case"

    @property
    def message(self) -> str:
        return f'in case "{self.title}": {self.inner.message}'

    @property
    def label(self) -> str:
        return self.inner.label

    @property
    def help(self) -> str:
        return self.inner.help

    @property
    def further(self) -> tuple[Label, ...]:
        return (*self.inner.further, Label(self.case, "this case"))
