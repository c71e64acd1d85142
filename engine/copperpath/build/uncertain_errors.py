"""The mistake of too many values given as a range."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath_grammar.diagnostics import Diagnostic


@dataclass(frozen=True, slots=True)
class TooManyUncertain(Diagnostic):
    """More ranges than are tried."""

    count: int
    most: int
    code: ClassVar[str] = "build/too-many-uncertain"

    @property
    def message(self) -> str:
        return (
            f"the file has {self.count} uncertain values; at most {self.most} are tried, as each "
            "costs two runs"
        )

    @property
    def help(self) -> str:
        return (
            "keep the ranges that matter; a range in a `part` or an array counts once for all "
            "devices that take it"
        )
