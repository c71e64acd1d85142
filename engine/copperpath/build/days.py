"""Days of a run: `on 2026-06-20`, `from 2026-06-19 to 2026-06-21`, and what the run touches."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import TypeAlias

from copperpath.build.scope import Run, Scope
from copperpath.build.site_errors import DatesBackwards
from copperpath.plugin_api import Span24
from copperpath_grammar.value_nodes import Date, Part

Days: TypeAlias = tuple[date, date]
"""The first and the last of them."""


def count_days(parts: Sequence[Part]) -> int:
    """How many of the next values say on which days: 1, 2, or 0 if they do not."""
    dated = [isinstance(part.value, Date) for part in parts[:2]]
    joiners = [part.joiner for part in parts[:2]]
    if dated[:1] == [True] and joiners[0] == "on":
        return 1
    return 2 if dated == [True, True] and joiners == ["from", "to"] else 0


def read_days(parts: Sequence[Part], scope: Scope) -> Days | None:
    """The days that so many values say; None after a report."""
    first, last = _date(parts[0]), _date(parts[-1])
    if first > last:
        scope.report(DatesBackwards(parts[0].span.to(parts[-1].span)))
        return None
    return first, last


def days_in_words(days: Days) -> str:
    """As one reads them: "2026-06-20", "2026-06-20 to 2026-06-21"."""
    return f"{days[0]}" if days[0] == days[1] else f"{days[0]} to {days[1]}"


def run_days(starts: datetime, lasts_s: float) -> Days:
    """First and last day that a run touches, on the station's clock."""
    return starts.date(), (starts + timedelta(seconds=max(lasts_s - 1.0, 0.0))).date()


def run_in_words(run: Run) -> str:
    """From when to when: "from 2026-06-19 08:00 to 2026-06-22 08:00"."""
    starts, lasts_s = run
    return f"from {starts:%Y-%m-%d %H:%M} to {starts + timedelta(seconds=lasts_s):%Y-%m-%d %H:%M}"


def opens_in(window: Span24, days: Days, run: Run) -> bool:
    """True if hours of these days are open at any time of the run; those that cross midnight
    belong to the day on which they begin."""
    starts, lasts_s = run
    first, last = run_days(starts, lasts_s)
    day = max(days[0], first - timedelta(days=1))
    while day <= min(days[1], last):
        midnight = datetime(day.year, day.month, day.day, tzinfo=starts.tzinfo)
        since = (midnight - starts).total_seconds()
        over = 86_400.0 if window.end_s <= window.start_s else 0.0
        if since + window.start_s < lasts_s and since + window.end_s + over > 0.0:
            return True
        day += timedelta(days=1)
    return False


def _date(part: Part) -> date:
    node = part.value
    assert isinstance(node, Date)
    return date(node.year, node.month, node.day)
