"""A month's mean light as tables have it: `sky 2.1 kWh/m2/day on level in december`, or on a plane
that stands as a panel does, `sky 3.4 kWh/m2/day on 60 deg, south in december`."""

from __future__ import annotations

from dataclasses import replace

from copperpath.build.build_errors import WrongForm
from copperpath.build.months import Line, names_months, read_months
from copperpath.build.parameters import FLAT, read_mounting
from copperpath.build.scope import Scope
from copperpath.build.single_values import read_bounded
from copperpath.build.site_errors import MeanWithoutMonth
from copperpath.over_year import MonthMean
from copperpath.plugin_api import Mount
from copperpath.quantities.units import AREA, ENERGY, POWER, UnitProblem, combined, read_unit
from copperpath_grammar.value_nodes import Entry, Measure, Part, Reference

LIGHT = combined(POWER, AREA, -1)
DOSE = combined(ENERGY, AREA, -1)
MOST_W_M2 = 500.0
FORM = "a mean light a day, `on level` or `on` the tilt and direction of a plane, and its months"
EXAMPLE = "sky 2.1 kWh/m2/day on level in december"


def is_mean(entry: Entry) -> bool:
    """True if a line begins with so much light a day."""
    first = entry.parts[0].value if entry.parts else None
    if not isinstance(first, Measure):
        return False
    try:
        return read_unit(first.unit).dims in (LIGHT, DOSE)
    except UnitProblem:
        return False


def read_mean(entry: Entry, scope: Scope) -> Line[float | MonthMean] | None:
    """The mean and its months; None after a report."""
    parts = entry.parts
    at = next((place for place in range(1, len(parts)) if names_months(parts[place:])), len(parts))
    plane = parts[1:at]
    if not plane or plane[0].joiner != "on":
        scope.report(WrongForm(entry.span, "sky", FORM, EXAMPLE))
        return None
    if at == len(parts):
        written = parts[0].span.to(parts[-1].span).text
        scope.report(MeanWithoutMonth(entry.span, written))
        return None
    mount = _plane(entry, plane, scope)
    mean = read_bounded(
        parts[0].value,
        "irradiance",
        "sky",
        scope,
        low=0.0,
        high=MOST_W_M2,
        reason="no place on earth has more than that as the mean of a month",
        example="2.1 kWh/m2/day on level in december",
        unit="kWh/m2/day",
    )
    months = read_months(parts[at:], entry, scope)
    if mount is None or mean is None or months is None:
        return None
    return Line(MonthMean(mean, mount), months, entry)


def _plane(entry: Entry, parts: tuple[Part, ...], scope: Scope) -> Mount | None:
    first = parts[0].value
    if len(parts) == 1 and isinstance(first, Reference):
        if first.text == "level":
            return FLAT
        scope.report(WrongForm(entry.span, "sky", FORM, EXAMPLE))
        return None
    standing = (replace(parts[0], joiner=""), *parts[1:])
    mounted = Entry(entry.name, standing, parts[0].span.to(parts[-1].span))
    if len(parts) != 2 or parts[1].joiner != ",":
        scope.report(WrongForm(entry.span, "sky", FORM, "sky 3.4 kWh/m2/day on 60 deg, south"))
        return None
    return read_mounting(mounted, scope)
