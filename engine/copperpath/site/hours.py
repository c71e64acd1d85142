"""Schedules by the hour and the day: when they change, and their mean over steps."""

from __future__ import annotations

import math
from datetime import date

import numpy as np

from copperpath.plugin_api import FloatArray, Schedule, Span24

DAY_S = 86_400.0
FIRST_DAY = date(1970, 1, 1).toordinal()


def schedule_over_time(
    schedule: Schedule, local_s: FloatArray, dt_s: FloatArray | float
) -> FloatArray:
    """Mean of a schedule over each step, edges inside a step weighted; shape (time,).

    Parameters
    ----------
    local_s : ndarray (time,) [s]
        Starts of the steps on the station's clock, rising: seconds since its midnight of
        1970-01-01, or, for a schedule without dates, of any day.
    dt_s : ndarray (time,) or float [s]
        Their lengths.
    """
    if schedule.constant or len(local_s) == 0:
        return np.broadcast_to(np.float64(schedule.otherwise), local_s.shape)
    ends_s = local_s + dt_s
    edges, values = _pieces(schedule, float(local_s[0]), float(ends_s.max()))
    since = edges - edges[0]
    sums = np.concatenate([[0.0], np.cumsum(np.diff(since) * values)])
    begun: FloatArray = np.interp(local_s - edges[0], since, sums)
    ended: FloatArray = np.interp(ends_s - edges[0], since, sums)
    # The difference of two large sums rounds; a value on neither side of the schedule's is an
    # error of 1e-9 that would otherwise read as "slightly on".
    mean = np.round((ended - begun) / dt_s, 9)
    return np.clip(mean, values.min(), values.max())


def changes_of(schedule: Schedule, starts_s: float, ends_s: float) -> FloatArray:
    """Times between two others at which a schedule changes, on the station's clock [s]."""
    if schedule.constant:
        return np.zeros(0)
    edges, values = _pieces(schedule, starts_s, ends_s)
    changes: FloatArray = edges[1:-1][np.diff(values) != 0.0]
    return changes


def holds_within(window: Span24, starts_s: float, ends_s: float) -> bool:
    """True if a window is open at any time of a span on the station's clock."""
    begins, ends = _openings(window, starts_s, ends_s)
    return bool(np.any((begins < ends_s) & (ends > starts_s)))


def _pieces(schedule: Schedule, starts_s: float, ends_s: float) -> tuple[FloatArray, FloatArray]:
    """Edges (piece + 1,) from the first time to the last, and the value between each two."""
    spans = [_openings(window, starts_s, ends_s) for window in schedule.windows]
    bounds = np.concatenate([times for span in spans for times in span])
    inside = bounds[(bounds > starts_s) & (bounds < ends_s)]
    edges = np.unique(np.concatenate([[starts_s, ends_s], inside]))
    values = np.full(len(edges) - 1, float(schedule.otherwise))
    # From the last window to the first, for the first that holds decides.
    for window, (begins, ends) in reversed(list(zip(schedule.windows, spans, strict=True))):
        for first, last in zip(
            np.searchsorted(edges, begins), np.searchsorted(edges, ends), strict=True
        ):
            values[first:last] = window.value
    return edges, values


def _openings(window: Span24, starts_s: float, ends_s: float) -> tuple[FloatArray, FloatArray]:
    """When a window opens and closes, on the days that may touch a span of time [s]."""
    first, last = math.floor(starts_s / DAY_S) - 1, math.floor(ends_s / DAY_S)
    if window.days is not None:
        first = max(first, window.days[0].toordinal() - FIRST_DAY)
        last = min(last, window.days[1].toordinal() - FIRST_DAY)
    midnights = DAY_S * np.arange(first, last + 1, dtype=np.float64)
    over = DAY_S if window.end_s <= window.start_s else 0.0
    return midnights + window.start_s, midnights + window.end_s + over
