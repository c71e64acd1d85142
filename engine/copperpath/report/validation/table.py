"""The table of checks against the outside world, as it lies beside this module.

`tests/outside` makes it: every row is a test there, and another test says when a row is stale.
Here it is only read, so that it can be shown where there are no tests.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields
from importlib.resources import files
from io import StringIO
from typing import Any, TypeVar

PACKAGE = "copperpath.report.validation"


@dataclass(frozen=True, slots=True)
class Topic:
    """A group of checks: the word it is called by, and what it is about."""

    name: str
    about: str


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of somebody else's beside ours, both in `unit`.

    Attributes
    ----------
    obtained : str
        "published", "published, weak", "computed from a reference library", "common practice, no
        source" or "from memory".
    why : str
        Why the tolerance is as wide as it is.
    disagrees : str
        Why ours lies outside the tolerance; empty where it lies inside.
    band : str
        "yes" where others give a range, any place in which is right; `expected` is its middle.
    """

    topic: str
    claim: str
    unit: str
    expected: float
    ours: float
    tolerance: float
    why: str
    source: str
    obtained: str
    disagrees: str = ""
    band: str = ""

    @property
    def off(self) -> float:
        """Ours less the other [unit]."""
        return self.ours - self.expected


@dataclass(frozen=True, slots=True)
class NotChecked:
    """Rows of a published table that nothing is held against, and the reason."""

    table: str
    rows: int
    reason: str


@dataclass(frozen=True, slots=True)
class Validation:
    """All of it."""

    topics: tuple[Topic, ...]
    figures: tuple[Figure, ...]
    not_checked: tuple[NotChecked, ...]

    def of(self, topic: str) -> tuple[Figure, ...]:
        """The figures of one topic."""
        return tuple(figure for figure in self.figures if figure.topic == topic)


Row = TypeVar("Row", Topic, Figure, NotChecked)
NAMES = {Topic: "topics.csv", Figure: "figures.csv", NotChecked: "not_checked.csv"}


def read_validation() -> Validation:
    """The table that comes along."""
    return Validation(tuple(_read(Topic)), tuple(_read(Figure)), tuple(_read(NotChecked)))


def _read(kind: type[Row]) -> Iterable[Row]:
    text = (files(PACKAGE) / NAMES[kind]).read_text(encoding="utf-8")
    for row in csv.DictReader(StringIO(text)):
        made: dict[str, Any] = dict(row)
        for field in fields(kind):
            if field.type in ("float", "int"):
                made[field.name] = (float if field.type == "float" else int)(row[field.name])
        yield kind(**made)


def written(kind: type[Row], rows: Iterable[Row]) -> str:
    """Rows as the text of their file; figures with eight digits."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([field.name for field in fields(kind)])
    for row in rows:
        cells = asdict(row).values()
        writer.writerow([f"{cell:.8g}" if isinstance(cell, float) else cell for cell in cells])
    return text.getvalue()
