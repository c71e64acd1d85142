"""What completion proposes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

Sort: TypeAlias = Literal[
    "statement", "model", "part", "device", "entry", "unit", "value", "word", "terminal", "case"
]


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One proposal.

    `insert` is what to write, the label if empty; it takes the place of the word typed so far.
    `detail` is a few words beside the label, `help` a text (Markdown) for who wants to know more.
    """

    label: str
    sort: Sort
    detail: str = ""
    help: str = ""
    insert: str = ""


def words(labels: Iterable[str], detail: str = "") -> list[Suggestion]:
    """Plain words."""
    return [Suggestion(label, "word", detail) for label in labels]


def without_doubles(found: Iterable[Suggestion]) -> list[Suggestion]:
    """Of several with one label the first."""
    kept: dict[str, Suggestion] = {}
    for each in found:
        kept.setdefault(each.label, each)
    return list(kept.values())
