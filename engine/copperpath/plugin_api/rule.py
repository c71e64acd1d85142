"""The class that a wiring rule is.

A rule judges a station before it is built: it asks an `Inquiry` and gives a `Reading` for each
thing it has looked at, in order or not. For a reading that is not in order it may name a remedy;
the engine makes the change, asks the rule again, and prints what that yields.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Literal, TypeAlias

from copperpath.plugin_api.edits import Edit
from copperpath.plugin_api.inquiry import Inquiry

RULE_INTERFACE_VERSION = 1

LevelWord: TypeAlias = Literal["danger", "fail", "warn", "note"]
LimitFrom: TypeAlias = Literal["published", "common practice", "from memory", "the file"]


@dataclass(frozen=True, slots=True)
class Reading:
    """What a rule found at one place.

    Attributes
    ----------
    subject : str
        Name of the device or the cable it speaks of; "station" for the whole.
    level : str or None
        How bad it is; None if it is in order, and then the message is not told.
    message : str
        One sentence without a full stop, names in backticks, with the number, the limit and their
        units.
    value, limit : float or None
        The two, in `unit`; None for a rule that counts nothing.
    unit : str
        As shown: "V", "A", "mm".
    place : str
        Tells readings of one subject apart ("start", "end", the other device).
    open : bool
        True for a question of a checklist that the file does not answer.
    """

    subject: str
    level: LevelWord | None
    message: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    place: str = ""
    open: bool = False


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing to do, in words that read after "try:", and the same as edits of the station;
    without edits what it yields cannot be worked out, and the report says so."""

    words: str
    edits: tuple[Edit, ...] = ()


class Rule(ABC):
    """Base of every wiring rule.

    Class attributes declare:

    interface   the version of the rule interface it was written for.
    name        words joined by hyphens; what `accept` names.
    summary     what it looks at, in a sentence.
    why         what happens in the field if it is not kept.
    limit_from  where the limit comes from; `source` says more (a standard with its clause, a
                handbook; empty for common practice).
    levels      those that its readings may have.
    asks        for a question of the checklist: what `confirm` names.
    """

    interface: ClassVar[int]
    name: ClassVar[str] = ""
    summary: ClassVar[str] = ""
    why: ClassVar[str] = ""
    limit_from: ClassVar[LimitFrom] = "common practice"
    source: ClassVar[str] = ""
    levels: ClassVar[tuple[LevelWord, ...]] = ()
    asks: ClassVar[str] = ""

    @staticmethod
    @abstractmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        """A reading of each thing looked at, those in order too."""

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        """What to do about a reading that is not in order."""
        return None
