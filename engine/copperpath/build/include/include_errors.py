"""Mistakes about shared files, told at the `include` line that names them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant
from copperpath_grammar.diagnostics import Diagnostic


@dataclass(frozen=True, slots=True)
class CannotInclude(Diagnostic):
    """A shared file that cannot be read, or may not be."""

    path: str
    reason: str
    advice: str
    code: ClassVar[str] = "build/cannot-include"

    @property
    def message(self) -> str:
        return f'"{self.path}" cannot be included: {self.reason}'

    @property
    def help(self) -> str:
        return self.advice


@dataclass(frozen=True, slots=True)
class IncludeCycle(Diagnostic):
    """Files that include each other."""

    names: tuple[str, ...]
    code: ClassVar[str] = "build/include-cycle"

    @property
    def message(self) -> str:
        if len(self.names) == 1:
            return f"{self.names[0]} includes itself"
        after = (*self.names[1:], self.names[0])
        steps = [f"{one} includes {other}" for one, other in zip(self.names, after, strict=True)]
        return f"files include each other: {', '.join(steps)}"

    @property
    def help(self) -> str:
        return "take one of these lines out; what a file includes is there for the whole station"


@dataclass(frozen=True, slots=True)
class UnknownLibrary(Diagnostic):
    """A library that no installed package brings."""

    name: str
    near: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/unknown-library"

    @property
    def message(self) -> str:
        return f'no installed package brings a library "{self.name}"'

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        return f"there are {listed(self.known)}" if self.known else "there are none at all"


@dataclass(frozen=True, slots=True)
class BrokenLibrary(Diagnostic):
    """A library that is listed and cannot be read; its package is at fault."""

    name: str
    package: str
    reason: str
    code: ClassVar[str] = "build/broken-library"

    @property
    def message(self) -> str:
        return f'library "{self.name}" of {self.package} cannot be used: {self.reason}'

    @property
    def help(self) -> str:
        return f"the station file is not at fault: update {self.package}, or tell its author"


@dataclass(frozen=True, slots=True)
class NotInThisFile(Diagnostic):
    """A statement that belongs into the main file."""

    what: str
    library: bool
    code: ClassVar[str] = "build/not-in-this-file"

    @property
    def message(self) -> str:
        holder = "a library" if self.library else "an included file"
        return f"{self.what} does not belong in {holder}"

    @property
    def help(self) -> str:
        if self.library:
            return "a library holds parts, assemblies and the named values that these need"
        return "write it in the file that you open, which includes this one"
