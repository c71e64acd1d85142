"""Small helpers on parameter values that several models share."""

from __future__ import annotations

from itertools import pairwise

from copperpath.plugin_api import Schedule, Values

DAY_S = 86_400.0


def given(p: Values, name: str) -> float | None:
    """The value of an optional parameter, or None where the file does not give it."""
    value = p.get(name)
    if value is None or value != value:
        return None
    return float(value)


def share_of_day(schedule: Schedule) -> float:
    """Mean over the 24 hours of a day of a schedule without dates; the first window that holds
    decides."""
    edges = {0.0, DAY_S}
    for window in schedule.windows:
        edges |= {window.start_s % DAY_S, window.end_s % DAY_S}
    ordered = sorted(edges)
    total = 0.0
    for start, end in pairwise(ordered):
        total += (end - start) * _value_at(schedule, (start + end) / 2.0)
    return total / DAY_S


def _value_at(schedule: Schedule, clock_s: float) -> float:
    for window in schedule.windows:
        start, end = window.start_s, window.end_s
        crosses = end <= start
        inside = (clock_s >= start or clock_s < end) if crosses else (start <= clock_s < end)
        if inside:
            return window.value
    return schedule.otherwise
