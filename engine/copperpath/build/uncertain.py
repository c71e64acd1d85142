"""Values given as `low .. high`: both ends read and checked, the middle to plan with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from copperpath.build.build_errors import WrongForm
from copperpath.build.parameters import example_of, read_parameter
from copperpath.build.scope import Scope
from copperpath.build.uncertain_errors import TooManyUncertain
from copperpath.build.value_errors import LowAboveHigh
from copperpath.plugin_api import (
    Ambient,
    AmbientRule,
    AnyParameter,
    Parameter,
    Schedule,
    ShareByHour,
    Span24,
)
from copperpath.station import UncertainValue
from copperpath_grammar.value_nodes import (
    Entry,
    Expression,
    Measure,
    Negative,
    Number,
    Range,
)

MOST_UNCERTAIN = 40
"""More uncertain values than this are not tried: each costs two runs."""


@dataclass(frozen=True, slots=True)
class Spread:
    """One entry with a range in it: its parameter, and what the device has at either end."""

    parameter: str
    low: Any
    high: Any
    entry: Entry


@dataclass(frozen=True, slots=True)
class Given:
    """What an entry gives: values by the names the law sees, and the spread if it is a range."""

    values: Mapping[str, Any]
    spread: Spread | None = None


def read_given(parameter: AnyParameter, entry: Entry, scope: Scope) -> Given | None:
    """The values of an entry, of a range the middle; None after a report."""
    ranges = [part.value for part in entry.parts if isinstance(part.value, Range)]
    if not ranges or not _may_be_uncertain(parameter):
        values = read_parameter(parameter, entry, scope)
        return None if values is None else Given(values)
    ends = [read_parameter(parameter, _at_end(entry, low=low), scope) for low in (True, False)]
    if ends[0] is None or ends[1] is None:
        return None
    name = parameter.name
    low, high = ends[0][name], ends[1][name]
    backwards = _backwards(low, high)
    if backwards is None:
        takes = "both ends alike: two temperatures, or twice the air's with a difference"
        scope.report(WrongForm(entry.span, name, takes, example_of(parameter)))
        return None
    if backwards:
        wrong = ranges[0]
        scope.report(LowAboveHigh(wrong.span, name, wrong.low.span.text, wrong.high.span.text))
        return None
    if low == high:
        return Given({name: low})
    return Given({name: _middle(low, high)}, Spread(name, low, high, entry))


def gather(spreads: Iterable[tuple[str, Spread]], scope: Scope) -> tuple[UncertainValue, ...]:
    """Uncertain values, each with all the devices that have it from one place in the text."""
    found: dict[tuple[Any, ...], UncertainValue] = {}
    for device, spread in spreads:
        # A kit's own values may make the same words mean another range.
        key = (spread.entry.span, spread.parameter, spread.low, spread.high)
        known = found.get(key)
        if known is not None:
            found[key] = replace(known, devices=(*known.devices, device))
            continue
        text = " ".join(spread.entry.span.text.split())
        found[key] = UncertainValue(
            (device,), spread.parameter, spread.low, spread.high, text, spread.entry.span
        )
    values = tuple(found.values())
    if len(values) > MOST_UNCERTAIN:
        span = values[MOST_UNCERTAIN].span
        scope.report(TooManyUncertain(span, len(values), MOST_UNCERTAIN))
    return values


def _may_be_uncertain(parameter: AnyParameter) -> bool:
    if isinstance(parameter, Parameter):
        return not parameter.whole
    return isinstance(parameter, ShareByHour | Ambient)


def _at_end(entry: Entry, *, low: bool) -> Entry:
    """The entry with one end in place of each range in it."""
    parts = tuple(
        replace(part, value=_end(part.value, low=low)) if isinstance(part.value, Range) else part
        for part in entry.parts
    )
    return replace(entry, parts=parts)


def _end(value: Range, *, low: bool) -> Expression:
    one, other = (value.low, value.high) if low else (value.high, value.low)
    return _with_unit_of(one, other)


def _with_unit_of(one: Expression, other: Expression) -> Expression:
    """A bare number takes the unit of the other end: `0.30 .. 0.40 A`."""
    while isinstance(other, Negative):
        other = other.operand
    if isinstance(one, Negative):
        return replace(one, operand=_with_unit_of(one.operand, other))
    if isinstance(one, Number) and isinstance(other, Measure):
        return Measure(one.value, other.unit, one.span)
    return one


def _backwards(low: Any, high: Any) -> bool | None:
    """True if low is above high; None if the two cannot be compared."""
    if isinstance(low, Schedule):
        return any(a > b for a, b in zip(_shares(low), _shares(high), strict=True))
    if isinstance(low, AmbientRule):
        if (low.fixed_k is None) != (high.fixed_k is None):
            return None
        return bool((low.fixed_k or 0.0) + low.offset_k > (high.fixed_k or 0.0) + high.offset_k)
    return bool(low > high)


def _shares(schedule: Schedule) -> list[float]:
    return [*(window.value for window in schedule.windows), schedule.otherwise]


def _middle(low: Any, high: Any) -> Any:
    if isinstance(low, Schedule):
        windows = tuple(
            Span24(a.start_s, a.end_s, 0.5 * (a.value + b.value))
            for a, b in zip(low.windows, high.windows, strict=True)
        )
        return Schedule(windows, 0.5 * (low.otherwise + high.otherwise))
    if isinstance(low, AmbientRule):
        if low.fixed_k is None:
            return AmbientRule(offset_k=0.5 * (low.offset_k + high.offset_k))
        return AmbientRule(fixed_k=0.5 * (low.fixed_k + high.fixed_k))
    return 0.5 * (low + high)
