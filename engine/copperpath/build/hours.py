"""Hours and shares by the hour: `on 06:00 to 23:00`, `20 % from 06:00 to 22:00, otherwise 2 %`."""

from __future__ import annotations

from copperpath.build.build_errors import WrongForm
from copperpath.build.scope import Scope
from copperpath.build.single_values import read_bounded
from copperpath.build.value_errors import EmptyHours, NoOtherwise
from copperpath.plugin_api import Schedule, Span24
from copperpath_grammar.value_nodes import Clock, Entry, Expression, Part

HOURS_FORM = "hours as two clock times with `to` between them"
SHARE_FORM = "a share, or shares by the hour with an `otherwise` at the end"
SHARE_REASON = "it is a share of the time"


def read_hours(entry: Entry, *, inside: float, scope: Scope) -> Schedule | None:
    """Windows of the clock in which the value is `inside` (1 on, 0 off), otherwise the other."""
    name = entry.name.text
    example = f"{name} 06:00 to 12:00, 14:00 to 23:00"
    windows: list[Span24] = []
    parts = entry.parts
    if not parts or len(parts) % 2 != 0:
        _wrong_form(entry, HOURS_FORM, example, scope)
        return None
    for index in range(0, len(parts), 2):
        start, end = parts[index], parts[index + 1]
        joined = start.joiner in (("", "from") if index == 0 else (",", "and", "from"))
        if not joined or end.joiner != "to":
            _wrong_form(entry, HOURS_FORM, example, scope)
            return None
        window = _window(entry, start.value, end.value, inside, HOURS_FORM, example, scope)
        if window is None:
            return None
        windows.append(window)
    return Schedule(tuple(windows), 1.0 - inside)


def read_share_by_hour(entry: Entry, example: str, scope: Scope) -> Schedule | None:
    """A constant share, or shares in windows of the clock with one for the rest."""
    name = entry.name.text
    form = f"{name} 20 % from 06:00 to 22:00, otherwise 2 %"
    if len(entry.parts) == 1:
        share = _share(entry.parts[0], name, example, scope)
        return None if share is None else Schedule((), share)
    if not entry.parts:
        _wrong_form(entry, SHARE_FORM, f"{name} {example or '15 %'}", scope)
        return None
    *timed, last = entry.parts
    if last.joiner != "otherwise":
        joiners = [part.joiner for part in entry.parts[1:3]]
        if joiners == ["from", "to"]:
            text = entry.span.text.removeprefix(name).strip()
            scope.report(NoOtherwise(entry.span, name, " ".join(text.split())))
            return None
        _wrong_form(entry, SHARE_FORM, form, scope)
        return None
    otherwise = _share(last, name, example, scope)
    windows = []
    if len(timed) % 3 != 0:
        _wrong_form(entry, SHARE_FORM, form, scope)
        return None
    for index in range(0, len(timed), 3):
        value, start, end = timed[index : index + 3]
        joined = value.joiner in (("",) if index == 0 else (",", "and"))
        if not joined or start.joiner != "from" or end.joiner != "to":
            _wrong_form(entry, SHARE_FORM, form, scope)
            return None
        share = _share(value, name, example, scope)
        window = _window(entry, start.value, end.value, share or 0.0, SHARE_FORM, form, scope)
        if share is None or window is None:
            return None
        windows.append(window)
    return None if otherwise is None else Schedule(tuple(windows), otherwise)


def clock_seconds(clock: Clock) -> float:
    """Seconds after midnight; 24:00 is the end of the day [s]."""
    return 3600.0 * clock.hour + 60.0 * clock.minute


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
    start: Expression,
    end: Expression,
    value: float,
    form: str,
    example: str,
    scope: Scope,
) -> Span24 | None:
    if not isinstance(start, Clock) or not isinstance(end, Clock):
        _wrong_form(entry, form, example, scope)
        return None
    if clock_seconds(start) == clock_seconds(end):
        scope.report(EmptyHours(start.span.to(end.span), entry.name.text, start.span.text))
        return None
    return Span24(clock_seconds(start), clock_seconds(end), value)


def _wrong_form(entry: Entry, takes: str, example: str, scope: Scope) -> None:
    scope.report(WrongForm(entry.span, entry.name.text, takes, example))
