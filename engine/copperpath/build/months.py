"""Months of the year: `in december`, `in june, july`, `from november to february`, and entries that
say one thing for most of the year and others for some months."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Generic, TypeVar

from copperpath.build.build_errors import DuplicateEntry, WrongForm
from copperpath.build.days import run_days
from copperpath.build.scope import Run, Scope
from copperpath.build.site_errors import DaysOutside, MonthTwice
from copperpath.build.value_errors import UnknownWord
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Entry, Part, Reference

Value = TypeVar("Value")

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
TAKES = "months as `in` one or more of them, or `from` a month `to` a month"


@dataclass(frozen=True, slots=True)
class Line(Generic[Value]):
    """One line: what it says, in which months (None: all the year), and where."""

    value: Value
    months: tuple[int, ...] | None
    entry: Entry


@dataclass(frozen=True, slots=True)
class OverYear(Generic[Value]):
    """What an entry says for most of the year, if it does, and by month."""

    otherwise: Value | None = None
    by_month: Mapping[int, Value] = field(default_factory=dict)


def names_months(parts: Sequence[Part]) -> bool:
    """True if values say in which months: by `in`, or by `from` with a word behind it."""
    if not parts:
        return False
    first = parts[0]
    return first.joiner == "in" or (first.joiner == "from" and isinstance(first.value, Reference))


def read_months(parts: Sequence[Part], entry: Entry, scope: Scope) -> tuple[int, ...] | None:
    """The months that so many values say, in their order; None after a report."""
    joiners = [part.joiner for part in parts]
    span = parts[0].joiner == "from"
    fits = joiners == (["from", "to"] if span else ["in", *[","] * (len(parts) - 1)])
    if not fits:
        name = entry.name.text
        before = entry.parts[: len(entry.parts) - len(parts)]
        given = before[0].span.to(before[-1].span).text if before else ""
        scope.report(WrongForm(entry.span, name, TAKES, f"{name} {given} in december"))
        return None
    found = [_month(part, entry, scope) for part in parts]
    months = [month for month in found if month is not None]
    if len(months) < len(parts):
        return None
    if span:
        first, last = months
        return tuple((first - 1 + count) % 12 + 1 for count in range((last - first) % 12 + 1))
    return tuple(months)


def _month(part: Part, entry: Entry, scope: Scope) -> int | None:
    value = part.value
    written = value.text if isinstance(value, Reference) else value.span.text
    if written in MONTHS:
        return MONTHS.index(written) + 1
    near = scope.near(written, MONTHS)
    scope.report(UnknownWord(value.span, entry.name.text, written, near, MONTHS))
    return None


def read_over_year(
    entries: Sequence[Entry],
    value_of: Callable[[Entry], Value | None],
    run: Run | None,
    scope: Scope,
) -> OverYear[Value] | None:
    """All lines of one entry; None after a report.

    Parameters
    ----------
    value_of : function
        Reads a line from which the months were taken.
    """
    before = len(scope.problems)
    lines = []
    for entry in entries:
        line = _line(entry, value_of, scope)
        if line is not None:
            lines.append(line)
    whole = [line for line in lines if line.months is None]
    for extra in whole[1:]:
        first = whole[0].entry.name
        scope.report(DuplicateEntry(extra.entry.name.span, first.text, first.span))
    monthly = [line for line in lines if line.months is not None]
    report_months(monthly, run, scope)
    if len(scope.problems) > before:
        return None
    return OverYear(whole[0].value if whole else None, by_month(monthly))


def _line(
    entry: Entry, value_of: Callable[[Entry], Value | None], scope: Scope
) -> Line[Value] | None:
    parts = entry.parts
    at = next((place for place in range(1, len(parts)) if names_months(parts[place:])), None)
    months = None
    if at is not None:
        months = read_months(parts[at:], entry, scope)
        if months is None:
            return None
        entry_of_value = Entry(entry.name, parts[:at], entry.name.span.to(parts[at - 1].span))
    else:
        entry_of_value = entry
    value = value_of(entry_of_value)
    return None if value is None else Line(value, months, entry)


def by_month(lines: Sequence[Line[Value]]) -> dict[int, Value]:
    """What each month has of its own, in the order of the year."""
    found = {month: line.value for line in lines for month in line.months or ()}
    return dict(sorted(found.items()))


def report_months(lines: Sequence[Line[Value]], run: Run | None, scope: Scope) -> None:
    """Months that are given twice, and months of which none comes in the run."""
    first: dict[int, Span] = {}
    for line in lines:
        for month in line.months or ():
            if month in first:
                name, word = line.entry.name.text, MONTHS[month - 1]
                scope.report(MonthTwice(line.entry.span, name, word, first[month]))
                break
            first[month] = line.entry.span
    if run is None or not lines or set(first) & months_of(run):
        return
    begin, end = run_days(*run)
    written = ", ".join(MONTHS[month - 1] for month in sorted(first))
    scope.report(DaysOutside(lines[0].entry.span, written, f"from {begin} to {end}"))


def months_of(run: Run) -> set[int]:
    """The months that a run touches."""
    first, last = run_days(*run)
    count = (last.year - first.year) * 12 + last.month - first.month
    return {(first.month - 1 + each) % 12 + 1 for each in range(min(count, 11) + 1)}


def first_month(run: Run) -> int:
    """The month in which a run begins."""
    day: date = run_days(*run)[0]
    return day.month
