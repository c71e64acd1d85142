"""Hours and shares by the hour and the day: `on 06:00 to 23:00`, `off 08:00 to 10:00 on
2026-06-21`, `20 % from 06:00 to 22:00, otherwise 2 %`.

A window without dates holds on every day; one with dates goes before it on its days.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from copperpath.build.build_errors import WrongForm
from copperpath.build.days import Days, count_days, opens_in, read_days, run_in_words
from copperpath.build.scope import Scope
from copperpath.build.single_values import read_bounded
from copperpath.build.site_errors import DaysOutside
from copperpath.build.value_errors import EmptyHours, HoursHidden, NoOtherwise
from copperpath.plugin_api import Schedule, Span24
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Clock, Date, Entry, Part

HOURS_FORM = "hours as two clock times with `to` between them"
HOURS_FIRST = "hours before the days; `00:00 to 24:00` is the whole day"
SHARE_FORM = "a share, or shares by the hour with an `otherwise` at the end"
DATED = "; days stand behind the hours of a window"
SHARE_REASON = "it is a share of the time"
DAY_S = 86_400.0


@dataclass(frozen=True, slots=True)
class _Window:
    """A window with the words that it was written in."""

    span24: Span24
    words: str
    span: Span


def read_hours(entry: Entry, *, inside: float, scope: Scope) -> Schedule | None:
    """Windows of the clock in which the value is `inside` (1 on, 0 off), otherwise the other."""
    name = entry.name.text
    example = f"{name} 06:00 to 12:00, 14:00 to 23:00"
    if entry.parts and isinstance(entry.parts[0].value, Date):
        days = entry.span.text.removeprefix(name).strip()
        joiner = "" if entry.parts[0].joiner else "on "
        _wrong_form(entry, HOURS_FIRST, f"{name} 00:00 to 24:00 {joiner}{days}", scope)
        return None
    windows: list[_Window] = []
    rest = entry.parts
    while rest or not windows:
        begun = ("", "from") if not windows else (",", "and", "from")
        if not rest or rest[0].joiner not in begun or not _are_hours(rest, rest[0].joiner):
            _wrong_form(entry, HOURS_FORM, example, scope)
            return None
        size = 2 + count_days(rest[2:])
        window = _window(entry, rest[:size], rest[:2], rest[2:size], inside, scope)
        if window is None:
            return None
        windows.append(window)
        rest = rest[size:]
    if _report_hidden(name, windows, scope):
        return None
    return _schedule(windows, 1.0 - inside)


def read_share_by_hour(entry: Entry, example: str, scope: Scope) -> Schedule | None:
    """A constant share, or shares in windows of the clock with one for the rest."""
    name = entry.name.text
    form = f"{name} 20 % from 06:00 to 22:00, otherwise 2 %"
    if len(entry.parts) == 1 and not entry.parts[0].joiner:
        share = _share(entry.parts[0], name, example, scope)
        return None if share is None else Schedule((), share)
    if not entry.parts:
        _wrong_form(entry, SHARE_FORM, f"{name} {example or '15 %'}", scope)
        return None
    windows: list[_Window] = []
    rest = entry.parts
    while rest and rest[0].joiner != "otherwise":
        hours = 2 if _are_hours(rest[1:], "from") else 0
        size = 1 + hours + count_days(rest[1 + hours :])
        begun = ("",) if not windows else (",", "and")
        if rest[0].joiner not in begun or size == 1:
            _wrong_form(entry, SHARE_FORM, form, scope)
            return None
        share = _share(rest[0], name, example, scope)
        clocks, days = rest[1 : 1 + hours], rest[1 + hours : size]
        window = _window(entry, rest[:size], clocks, days, share or 0.0, scope)
        if share is None or window is None:
            return None
        windows.append(window)
        rest = rest[size:]
    if not rest:
        text = entry.span.text.removeprefix(name).strip()
        dated = any(window.span24.days is not None for window in windows)
        scope.report(NoOtherwise(entry.span, name, " ".join(text.split()), dated))
        return None
    if len(rest) > 1:
        _wrong_form(entry, SHARE_FORM, form, scope)
        return None
    otherwise = _share(rest[0], name, example, scope)
    return None if otherwise is None else _schedule(windows, otherwise)


def clock_seconds(clock: Clock) -> float:
    """Seconds after midnight; 24:00 is the end of the day [s]."""
    return 3600.0 * clock.hour + 60.0 * clock.minute


def _are_hours(parts: Sequence[Part], joiner: str) -> bool:
    """True if the next two values are clock times, joined so."""
    return (
        len(parts) >= 2
        and [part.joiner for part in parts[:2]] == [joiner, "to"]
        and all(isinstance(part.value, Clock) for part in parts[:2])
    )


def _share(part: Part, name: str, example: str, scope: Scope) -> float | None:
    return read_bounded(
        part.value,
        "share",
        name,
        scope,
        low=0.0,
        high=1.0,
        reason=SHARE_REASON,
        example=example,
        unit="%",
    )


def _window(
    entry: Entry,
    parts: Sequence[Part],
    clocks: Sequence[Part],
    days: Sequence[Part],
    value: float,
    scope: Scope,
) -> _Window | None:
    """One window of two clock times (none: the whole day) and its days (none: every day)."""
    start_s, end_s = 0.0, DAY_S
    if clocks:
        start, end = clocks[0].value, clocks[1].value
        assert isinstance(start, Clock)
        assert isinstance(end, Clock)
        start_s, end_s = clock_seconds(start), clock_seconds(end)
        if start_s == end_s:
            scope.report(EmptyHours(start.span.to(end.span), entry.name.text, start.span.text))
            return None
    when: Days | None = None
    if days:
        when = read_days(days, scope)
        if when is None:
            return None
    span = (clocks or days)[0].value.span.to(parts[-1].value.span)
    found = _Window(Span24(start_s, end_s, value, when), " ".join(span.text.split()), span)
    return None if _report_outside(found, scope) else found


def _report_outside(window: _Window, scope: Scope) -> bool:
    """True, after a report, if a dated window is at no time open in the run."""
    days = window.span24.days
    if days is None or scope.run is None:
        return False
    if opens_in(window.span24, days, scope.run):
        return False
    scope.report(DaysOutside(window.span, window.words, run_in_words(scope.run)))
    return True


def _report_hidden(name: str, windows: Sequence[_Window], scope: Scope) -> bool:
    """True, after a report, if a dated window lies inside one of every day."""
    daily = [window for window in windows if window.span24.days is None]
    opens = [(w.span24.start_s - before, w) for w in daily for before in (0.0, DAY_S)]
    opens.sort(key=lambda each: each[0])
    begins = [start for start, _ in opens]
    # Of all that have begun by then, the one that is open longest: where it ends, and itself.
    longest = list(accumulate(((s + _length(w), w) for s, w in opens), _later))
    hidden = False
    for window in windows:
        before = bisect_right(begins, window.span24.start_s)
        if window.span24.days is None or not before:
            continue
        ends, other = longest[before - 1]
        if window.span24.start_s + _length(window) <= ends:
            scope.report(HoursHidden(window.span, name, window.words, other.words))
            hidden = True
    return hidden


def _length(window: _Window) -> float:
    """How long it is open on each of its days [s]."""
    return (window.span24.end_s - window.span24.start_s - 1.0) % DAY_S + 1.0


def _later(one: tuple[float, _Window], other: tuple[float, _Window]) -> tuple[float, _Window]:
    return other if other[0] > one[0] else one


def _schedule(windows: Sequence[_Window], otherwise: float) -> Schedule:
    """Those with dates first: on their days they decide."""
    ordered = sorted(windows, key=lambda window: window.span24.days is None)
    return Schedule(tuple(window.span24 for window in ordered), otherwise)


def _wrong_form(entry: Entry, takes: str, example: str, scope: Scope) -> None:
    if any(isinstance(part.value, Date) for part in entry.parts) and takes != HOURS_FIRST:
        takes += DATED
        example = example.replace("12:00,", "12:00 on 2026-06-20,")
        example = example.replace("22:00,", "22:00 on 2026-06-20,")
    scope.report(WrongForm(entry.span, entry.name.text, takes, example))
