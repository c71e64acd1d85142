"""What a complaint is: typed, with a place, a reason and a remedy.

A diagnostic is a frozen dataclass, one class a mistake. Its fields carry the facts; its
properties turn them into words. Rendering (terminal, JSON) is elsewhere.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from copperpath_grammar.source import Span


class Level(Enum):
    """How bad it is; the one scale used everywhere in copperpath, worst first."""

    DANGER = "danger"
    FAIL = "fail"
    WARN = "warn"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Label:
    """A further place in the text with a short word on why it is shown."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Diagnostic(ABC):
    """Base of all mistakes in a file. Subclasses set `code` and the three texts.

    Wording: plain English, lower-case start, no full stop, names in backticks. `message`
    stands alone; `label` is terse, it points at the words; `help` says what to write instead.
    """

    span: Span

    code: ClassVar[str] = ""

    @property
    @abstractmethod
    def message(self) -> str:
        """What is wrong, in one sentence that stands alone."""

    @property
    def label(self) -> str:
        """A few words under the marked text; may be empty."""
        return ""

    @property
    def help(self) -> str:
        """What to write instead; may be empty."""
        return ""

    @property
    def further(self) -> tuple[Label, ...]:
        """Other places that matter, such as where a brace was opened."""
        return ()
