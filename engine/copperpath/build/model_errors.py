"""Mistakes about what stands behind a colon: unknown, broken and outdated models and parts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant, places
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span


@dataclass(frozen=True, slots=True)
class UnknownModel(Diagnostic):
    """Neither a part of this file nor an installed model; `library` has the part that is near."""

    name: str
    near: str
    known: tuple[str, ...]
    trouble: str = ""
    library: str = ""
    also: tuple[Span, ...] = ()
    code: ClassVar[str] = "build/unknown-model"

    @property
    def message(self) -> str:
        return f"there is no model or part `{self.name}`"

    @property
    def label(self) -> str:
        return meant(self.near) if self.near != self.name else ""

    @property
    def help(self) -> str:
        if self.trouble:
            return f"it may be in a file that cannot be used: {self.trouble}"
        if self.library:
            line = f'`include library "{self.library}"`'
            lead = f'`{self.near}` is a part of library "{self.library}"'
            if self.near == self.name:
                return f"{lead}: add a line {line}"
            return f"{lead}, which a line {line} brings"
        if self.near:
            return f"`copperpath models` explains each of the {len(self.known)} models there are"
        models = listed(self.known)
        return f"models: {models}; `copperpath models` explains each, and lists ready parts"

    @property
    def further(self) -> tuple[Label, ...]:
        return places(self.also)


@dataclass(frozen=True, slots=True)
class BrokenModel(Diagnostic):
    """An installed model that cannot be used; not the fault of the file's author."""

    reason: str
    code: ClassVar[str] = "build/broken-model"

    @property
    def message(self) -> str:
        return f"this model cannot be used; {self.reason}"

    @property
    def help(self) -> str:
        return "the station file is not at fault: update that package, or tell its author"


@dataclass(frozen=True, slots=True)
class OtherVersion(Diagnostic):
    """A model that was written for another version of the plugin interface.

    `devices` are those of the file that have no model because of it.
    """

    name: str
    package: str
    reason: str
    devices: tuple[str, ...] = ()
    also: tuple[Span, ...] = ()
    code: ClassVar[str] = "build/other-version"

    @property
    def message(self) -> str:
        return f"model `{self.name}` from {self.package} is there, but it {self.reason}"

    @property
    def help(self) -> str:
        lost = ""
        if self.devices:
            lost = (
                f"{listed(self.devices)} {'has' if len(self.devices) == 1 else 'have'} no model: "
            )
        return f"{lost}update {self.package}, or tell its author; the station file is not at fault"

    @property
    def further(self) -> tuple[Label, ...]:
        return places(self.also)
