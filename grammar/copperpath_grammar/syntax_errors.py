"""Mistakes in the structure of a file."""
from __future__ import annotations
from dataclasses import dataclass
from copperpath_grammar.diagnostics import Diagnostic
@dataclass(frozen=True, slots=True)
class EmptyFile(Diagnostic):
    code = "syntax/empty-file"
    @property
    def message(self) -> str:
        return "there is nothing in this file"
@dataclass(frozen=True, slots=True)
class FileTooLong(Diagnostic):
    length: int
    code = "syntax/file-too-long"
    @property
    def message(self) -> str:
        return "long"
