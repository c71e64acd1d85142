"""A figure of somebody else's beside ours, and the rows of `outside/data` that it stands for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from support.outside_data import rows_of

from copperpath.report.validation import Figure

OBTAINED = (
    "published",
    "published, weak",
    "computed from a reference library",
    "common practice, no source",
    "from memory",
)


@dataclass(frozen=True)
class Record:
    """What a check yields.

    Attributes
    ----------
    rows : tuple of (str, int)
        File and row (the first is 1) of the data that this accounts for.
    disagrees : str
        Why ours lies outside the tolerance; the test then wants it outside, by at most `at_most`.
    """

    claim: str
    expected: float
    ours: float
    unit: str
    tolerance: float
    why: str
    source: str
    obtained: str
    rows: tuple[tuple[str, int], ...] = ()
    disagrees: str = ""
    at_most: float = 0.0
    band: bool = False

    def figure(self, topic: str) -> Figure:
        """As it goes into the table that comes along."""
        return Figure(
            topic,
            self.claim,
            self.unit,
            float(self.expected),
            float(self.ours),
            float(self.tolerance),
            self.why,
            self.source,
            self.obtained,
            self.disagrees,
            "yes" if self.band else "",
        )

    def verdict(self) -> str:
        """Empty if the figure is where the record says that it is."""
        off = abs(self.ours - self.expected)
        if not math.isfinite(off) or not self.tolerance > 0.0 or not self.why:
            return "it needs finite figures, and a tolerance with its reason"
        if not self.disagrees:
            return "" if off <= self.tolerance else f"{off:.4g} off, {self.tolerance:.4g} allowed"
        if off <= self.tolerance:
            return f"it agrees again: only {off:.4g} off"
        return (
            "" if off <= self.at_most else f"{off:.4g} off, said to be {self.at_most:.4g} at most"
        )


@dataclass(frozen=True)
class Left:
    """Rows of a file that no check uses, and why; all of its rows if none are named."""

    file: str
    reason: str
    rows: tuple[int, ...] = ()


def numbered(file: str) -> Iterator[tuple[tuple[tuple[str, int], ...], dict[str, str]]]:
    """The rows of a file of data, each with what a record says to account for it."""
    for number, row in enumerate(rows_of(file), 1):
        yield ((file, number),), row


def origin(row: Mapping[str, str], obtained: str = "published") -> dict[str, str]:
    """Where a row comes from, as a record says it."""
    return {"source": row["source"], "obtained": row.get("obtained") or obtained}


def band(low: float, high: float) -> dict[str, float]:
    """Anything from `low` to `high`, as a middle and what is allowed to either side."""
    return {"expected": 0.5 * (low + high), "tolerance": 0.5 * (high - low), "band": True}
