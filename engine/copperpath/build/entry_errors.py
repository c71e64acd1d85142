"""Mistakes about how the values of an entry are joined."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath_grammar.diagnostics import Diagnostic


@dataclass(frozen=True, slots=True)
class JoinsNothing(Diagnostic):
    """`receive of 0.3 A`."""

    name: str
    word: str
    code: ClassVar[str] = "build/joins-nothing"

    @property
    def message(self) -> str:
        return f"`{self.word}` joins two values; nothing stands before it"

    @property
    def help(self) -> str:
        return f"take the word out, or write a value between `{self.name}` and it"
