"""The `sky` lines: clear, a share of clear, by date or month, or a file of measured light."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from copperpath.build.build_errors import WrongForm
from copperpath.build.days import Days, count_days, days_in_words, read_days, run_days
from copperpath.build.light_file import read_light_file
from copperpath.build.month_means import is_mean, read_mean
from copperpath.build.months import (
    Line,
    by_month,
    months_of,
    names_months,
    read_months,
    report_months,
)
from copperpath.build.scope import Run, Scope
from copperpath.build.single_values import read_bounded
from copperpath.build.site_errors import DaysOutside, SkyHidden, TwoSkies
from copperpath.over_year import MonthMean, WeatherFile
from copperpath.station import Assumption, ClearSky, MeasuredSky, Sky
from copperpath_grammar.value_nodes import Entry, Part, Reference, Text

FORM = "`clear`, a share of clear, or the name of a file, each if need be with its days"
EXAMPLE = "sky 30 % of clear on 2026-06-20"


@dataclass(frozen=True, slots=True)
class Shade:
    """One line: a share of the clear sky's light, on some days or (None) on all."""

    share: float
    days: Days | None
    entry: Entry


def read_sky(
    entries: Sequence[Entry],
    folder: Path | None,
    run: Run | None,
    scope: Scope,
    assumptions: list[Assumption],
) -> Sky | None:
    """All `sky` lines together; later ones win. None after a report."""
    measured = [entry for entry in entries if entry.parts and _is_file(entry.parts[0])]
    if measured:
        return _measured(measured, entries, folder, scope)
    before = len(scope.problems)
    found = [
        read_mean(entry, scope) if is_mean(entry) else _shade(entry, scope) for entry in entries
    ]
    monthly = [line for line in found if isinstance(line, Line)]
    lines = [line for line in found if isinstance(line, Shade)]
    report_months(monthly, run, scope)
    whole = [shade for shade in lines if shade.days is None]
    for extra in whole[1:]:
        scope.report(TwoSkies(extra.entry.span, whole[0].entry.span, False))
    dated = [shade for shade in lines if shade.days is not None]
    if whole and dated and whole[0].entry.span.start > dated[0].entry.span.start:
        scope.report(SkyHidden(whole[0].entry.span, dated[0].entry.span))
    if run is not None:
        _report_outside(dated, run, scope)
    if len(scope.problems) > before:
        return None
    by_date: dict[date, float] = {}
    for shade in dated:
        assert shade.days is not None
        by_date |= dict.fromkeys(_each_day(*shade.days, run), shade.share)
    months = by_month(monthly)
    if not whole and (run is None or not months_of(run) <= set(months)):
        basis = "only some days are given; the others are taken as clear"
        assumptions.append(Assumption("station", "sky on other days", "clear", basis))
    return ClearSky(whole[0].share if whole else 1.0, by_date, months)


def _is_file(part: Part) -> bool:
    return isinstance(part.value, Text)


def _measured(
    measured: list[Entry], entries: Sequence[Entry], folder: Path | None, scope: Scope
) -> MeasuredSky | WeatherFile | None:
    entry = measured[0]
    others = [each for each in entries if each is not entry]
    for other in others:
        scope.report(TwoSkies(other.span, entry.span, True))
    if len(entry.parts) > 1:
        takes = "a file alone: the days are in the file"
        scope.report(WrongForm(entry.span, "sky", takes, f"sky {entry.parts[0].span.text}"))
        return None
    text = entry.parts[0].value
    assert isinstance(text, Text)
    found = read_light_file(text, folder, scope)
    return None if others else found


def _shade(entry: Entry, scope: Scope) -> Shade | Line[float | MonthMean] | None:
    parts = list(entry.parts)
    share: float | None = 1.0
    if len(parts) >= 2 and parts[1].joiner == "of" and _is_clear(parts[1]):
        share = read_bounded(
            parts[0].value,
            "share",
            "sky",
            scope,
            low=0.0,
            high=1.5,
            reason="it is a share of the clear sky's light; broken cloud may add a little",
            example="30 %",
            unit="%",
        )
        rest = parts[2:]
    elif parts and _is_clear(parts[0]):
        rest = parts[1:]
    else:
        scope.report(WrongForm(entry.span, "sky", FORM, EXAMPLE))
        return None
    if share is None:
        return None
    if not rest:
        return Shade(share, None, entry)
    if names_months(rest):
        months = read_months(rest, entry, scope)
        return None if months is None else Line(share, months, entry)
    days = _days(entry, rest, scope)
    return None if days is None else Shade(share, days, entry)


def _is_clear(part: Part) -> bool:
    return isinstance(part.value, Reference) and part.value.text == "clear"


def _days(entry: Entry, parts: list[Part], scope: Scope) -> Days | None:
    """First and last day that a line covers."""
    if count_days(parts) == len(parts):
        return read_days(parts, scope)
    takes = "days as `on` one date, or `from` a date `to` a date, or months as `in december`"
    scope.report(WrongForm(entry.span, "sky", takes, EXAMPLE))
    return None


def _report_outside(dated: list[Shade], run: Run, scope: Scope) -> None:
    """A dated sky that never comes: usually a mistyped month."""
    first, last = run_days(*run)
    for shade in dated:
        assert shade.days is not None
        if shade.days[1] < first or shade.days[0] > last:
            written = days_in_words(shade.days)
            scope.report(DaysOutside(shade.entry.span, written, f"from {first} to {last}"))


def _each_day(first: date, last: date, run: Run | None) -> list[date]:
    """The days from first to last that the run touches; none while the run is not known."""
    if run is None:
        return []
    begin, end = run_days(*run)
    first, last = max(first, begin), min(last, end)
    return [first + timedelta(days=count) for count in range((last - first).days + 1)]
