"""The air in the `station` block: `air` over the year, and `record_low`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from copperpath.build.build_errors import DuplicateEntry, WrongForm
from copperpath.build.light_file import read_air_file
from copperpath.build.months import MONTHS, OverYear, first_month, months_of, read_over_year
from copperpath.build.scope import Run, Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.site_errors import ColderThanRecord, MonthsMissing
from copperpath.build.value_errors import LowAboveHigh
from copperpath.over_year import WeatherFile
from copperpath.plugin_api.parameters import Dimension
from copperpath.station import Assumption
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Entry, Expression, Range, Text

USUAL_SEED = 1
EXAMPLE = "air 8 degC .. 19 degC"
FORM = (
    "one temperature, or the coolest and the warmest of the day with `..` between, and behind them "
    "if need be months; or the name of a weather file"
)


@dataclass(frozen=True, slots=True)
class Air:
    """Coolest and warmest of the day [K]: in most months, and in those that have their own."""

    low_k: float
    high_k: float
    by_month: Mapping[int, tuple[float, float]]
    file: WeatherFile | None = None


def read_air(
    entries: Sequence[Entry], folder: Path | None, run: Run | None, scope: Scope
) -> Air | None:
    """All `air` lines together; None after a report."""
    for entry in entries:
        value = only_value(entry)
        if isinstance(value, Text):
            for other in entries:
                if other is not entry:
                    name = entry.name
                    scope.report(DuplicateEntry(other.name.span, name.text, name.span))
            return _from_file(value, folder, scope)
    found = read_over_year(entries, lambda entry: _day(entry, scope), run, scope)
    if found is None:
        return None
    usual = found.otherwise or _usual(found, run, entries[-1].span, scope)
    return None if usual is None else Air(*usual, found.by_month)


def _from_file(text: Text, folder: Path | None, scope: Scope) -> Air | None:
    """The air of a weather file; coolest and warmest are those of its year."""
    file = read_air_file(text, folder, scope)
    if file is None:
        return None
    warmth = file.weather.air_k
    return Air(float(warmth.min()), float(warmth.max()), {}, file)


def _usual(
    found: OverYear[tuple[float, float]], run: Run | None, span: Span, scope: Scope
) -> tuple[float, float] | None:
    """The air of months without their own: of none, where every month of the run has its line."""
    if run is None or not found.by_month:
        return None
    missing = tuple(MONTHS[month - 1] for month in sorted(months_of(run) - set(found.by_month)))
    if missing:
        scope.report(MonthsMissing(span, "air", missing, "-8 degC .. -2 degC"))
        return None
    return found.by_month[first_month(run)]


def _day(entry: Entry, scope: Scope) -> tuple[float, float] | None:
    value = only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, "air", FORM, EXAMPLE))
        return None
    ends = (value.low, value.high) if isinstance(value, Range) else (value,)
    found = [_temperature(end, "air", scope) for end in ends]
    low, high = found[0], found[-1]
    if low is None or high is None:
        return None
    if low > high:
        scope.report(LowAboveHigh(value.span, "air", ends[0].span.text, ends[-1].span.text))
        return None
    return low, high


def read_record_low(entry: Entry | None, air: Air | None, scope: Scope) -> float | None:
    """The coldest air on record [K]; None where it is not given, or after a report."""
    if entry is None:
        return None
    value = only_value(entry)
    if value is None:
        takes = "the coldest air on record at the place"
        scope.report(WrongForm(entry.span, "record_low", takes, "record_low -34 degC"))
        return None
    found = _temperature(value, "record_low", scope)
    if found is None or air is None:
        return found
    coolest = min([air.low_k, *(low for low, _ in air.by_month.values())])
    if found > coolest:
        scope.report(ColderThanRecord(value.span, value.span.text))
        return None
    return found


def _temperature(value: Expression, name: str, scope: Scope) -> float | None:
    return read_bounded(
        value,
        "temperature",
        name,
        scope,
        low=183.15,
        high=333.15,
        reason="the air on earth is between -90 degC and 60 degC",
        example="8 degC",
        unit="degC",
    )


def read_spread(
    by_name: Mapping[str, Entry], scope: Scope, assumptions: list[Assumption]
) -> tuple[float, int]:
    """By how much days are warmer or colder than usual [K], and from which seed."""
    entry, seed = by_name.get("air_spread"), by_name.get("seed")
    spread = _bounded(entry, "air_spread", "temperature_difference", 15.0, "4 K", scope)
    number = _bounded(seed, "seed", "number", 1e9, "7", scope)
    if seed is None and (entry is not None or "random_days" in by_name):
        basis = "another seed gives other days of the same kind"
        assumptions.append(Assumption("station", "seed", f"{USUAL_SEED}", basis))
    return spread or 0.0, USUAL_SEED if number is None else int(number)


def _bounded(
    entry: Entry | None,
    name: str,
    dimension: Dimension,
    high: float,
    example: str,
    scope: Scope,
) -> float | None:
    if entry is None:
        return None
    value = only_value(entry)
    if value is None:
        takes = {
            "air_spread": "the standard deviation by which days are warmer or colder than usual",
            "seed": "a whole number from which chance begins",
        }
        scope.report(WrongForm(entry.span, name, takes[name], f"{name} {example}"))
        return None
    return read_bounded(
        value,
        dimension,
        name,
        scope,
        low=0.0,
        high=high,
        reason="3 K to 6 K are usual" if name == "air_spread" else "any whole number will do",
        example=example,
        whole=name == "seed",
    )
