"""Mistakes about assemblies and their kits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span

# ---- which assembly, which values ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownAssembly(Diagnostic):
    """A kit of something that is not described."""

    name: str
    near: str
    code: ClassVar[str] = "build/unknown-assembly"

    @property
    def message(self) -> str:
        return f"there is no assembly `{self.name}` in this file"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        if self.near:
            return ""
        return f"describe it: `assembly {self.name} {{ ... }}`, or include the file that does"


@dataclass(frozen=True, slots=True)
class AssemblyCycle(Diagnostic):
    """Assemblies that hold kits of each other."""

    names: tuple[str, ...]
    code: ClassVar[str] = "build/assembly-cycle"

    @property
    def message(self) -> str:
        if len(self.names) == 1:
            return f"assembly `{self.names[0]}` holds a kit of itself, which never ends"
        after = (*self.names[1:], self.names[0])
        steps = [f"`{one}` of `{other}`" for one, other in zip(self.names, after, strict=True)]
        return f"assemblies hold kits of each other, which never ends: {', '.join(steps)}"

    @property
    def help(self) -> str:
        return "take one of these kits out"


@dataclass(frozen=True, slots=True)
class KitsTooDeep(Diagnostic):
    """Kits in kits in kits."""

    most: int
    code: ClassVar[str] = "build/kits-too-deep"

    @property
    def message(self) -> str:
        return f"here kits stand in kits more than {self.most} deep"

    @property
    def help(self) -> str:
        return "put several of these assemblies into one"


@dataclass(frozen=True, slots=True)
class HidesValue(Diagnostic):
    """A value inside an assembly with the name of one of the file."""

    name: str
    first: Span
    code: ClassVar[str] = "build/hides-value"

    @property
    def message(self) -> str:
        return f"`{self.name}` is a named value of the whole file already"

    @property
    def help(self) -> str:
        return (
            "give one of them another name; an assembly sees the file's values, so this one would "
            "be two things"
        )

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "the file's"),)


@dataclass(frozen=True, slots=True)
class WholeStationOnly(Diagnostic):
    """`require holds` inside an assembly."""

    what: str
    code: ClassVar[str] = "build/whole-station-only"

    @property
    def message(self) -> str:
        return f"`{self.what}` is a matter of the whole station, not of one assembly"

    @property
    def help(self) -> str:
        return "write this line outside the assembly"


# ---- from outside to inside ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownInside(Diagnostic):
    """A name that the assembly has not got. `outside` if the file has it."""

    name: str
    assembly: str
    near: str
    outside: bool
    code: ClassVar[str] = "build/unknown-inside"

    @property
    def message(self) -> str:
        if self.outside:
            return (
                f"`{self.name}` stands outside assembly `{self.assembly}`, which sees only what "
                "is inside it"
            )
        return f"there is no `{self.name}` in assembly `{self.assembly}`"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        if self.outside:
            return (
                "write `expose in -> ...` in the assembly, and run the cable outside, to the "
                "kit's `in`"
            )
        return "" if self.near else "mend the name, or declare it inside the assembly"


@dataclass(frozen=True, slots=True)
class NotExposed(Diagnostic):
    """A cable from outside to a terminal inside."""

    inside: str
    kit: str
    assembly: str
    terminal: str
    code: ClassVar[str] = "build/not-exposed"

    @property
    def message(self) -> str:
        return f"`{self.inside}` is inside `{self.kit}`; a cable from outside cannot end there"

    @property
    def help(self) -> str:
        name = self.terminal or "out"
        return (
            f"write `expose {name} -> {self.inside}` in assembly `{self.assembly}`, and end the "
            f"cable at `{self.kit}.{name}`"
        )


@dataclass(frozen=True, slots=True)
class NoSuchExposed(Diagnostic):
    """A terminal that the assembly does not expose."""

    terminal: str
    kit: str
    assembly: str
    near: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/no-such-exposed"

    @property
    def message(self) -> str:
        return f"`{self.kit}` has no terminal `{self.terminal}`"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        if not self.known:
            return (
                f"assembly `{self.assembly}` exposes nothing: write "
                f"`expose {self.terminal} -> ...` in it"
            )
        return f"assembly `{self.assembly}` exposes {listed(self.known)}"


@dataclass(frozen=True, slots=True)
class WhichExposed(Diagnostic):
    """A kit named alone that exposes several terminals."""

    kit: str
    assembly: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/which-exposed"

    @property
    def message(self) -> str:
        return f"`{self.kit}` has several terminals; say which one the cable ends at"

    @property
    def help(self) -> str:
        return (
            f"write `{self.kit}.{self.known[0]}` or the like; assembly `{self.assembly}` exposes "
            f"{listed(self.known)}"
        )


@dataclass(frozen=True, slots=True)
class NothingExposed(Diagnostic):
    """A cable to a kit that has no terminal for the outside."""

    kit: str
    assembly: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/nothing-exposed"

    @property
    def message(self) -> str:
        return f"`{self.kit}` has no terminal to the outside, so no cable can end there"

    @property
    def help(self) -> str:
        return f"write `expose in -> ...` in assembly `{self.assembly}`"


@dataclass(frozen=True, slots=True)
class SeveralExposed(Diagnostic):
    """One exposed name for a range of terminals."""

    written: str
    code: ClassVar[str] = "build/several-exposed"

    @property
    def message(self) -> str:
        return f"`{self.written}` is several terminals; one is exposed by each line"

    @property
    def help(self) -> str:
        return "write a line for each: `expose 1 -> strip.1`"


@dataclass(frozen=True, slots=True)
class ExposedTwice(Diagnostic):
    """Two `expose` lines for one terminal."""

    terminal: str
    first: Span
    code: ClassVar[str] = "build/exposed-twice"

    @property
    def message(self) -> str:
        return f"`{self.terminal}` is exposed twice"

    @property
    def help(self) -> str:
        return "give the two different names"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "first here"),)


@dataclass(frozen=True, slots=True)
class KitIsNoDevice(Diagnostic):
    """`require table powered throughout`."""

    kit: str
    example: str
    code: ClassVar[str] = "build/kit-is-no-device"

    @property
    def message(self) -> str:
        return f"`{self.kit}` is a kit of several devices; say which is meant"

    @property
    def help(self) -> str:
        return f"name the device behind a dot: `{self.kit}.{self.example}`"


@dataclass(frozen=True, slots=True)
class MissingForKit(Diagnostic):
    """A kit that does not give a value its assembly needs."""

    name: str
    kit: str
    assembly: str
    parameter: Span
    code: ClassVar[str] = "build/missing-for-kit"

    @property
    def message(self) -> str:
        return f"`{self.kit}` gives no `{self.name}`, which assembly `{self.assembly}` needs"

    @property
    def help(self) -> str:
        return (
            f"write `{self.name}` and its value between the braces of the kit, or a default in "
            "the assembly"
        )

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.parameter, "asked for here"),)
