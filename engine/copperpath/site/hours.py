"""Schedules by the hour, averaged over steps."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from copperpath.plugin_api import FloatArray, Schedule, Span24

DAY_S = 86_400.0


def schedule_over_time(
    schedule: Schedule, local_s: FloatArray, dt_s: FloatArray | float
) -> FloatArray:
    """Mean of a schedule over each step, edges inside a step weighted; shape (time,).

    Parameters
    ----------
    local_s : ndarray (time,) [s]
        Starts of the steps: seconds since any midnight of the station's clock.
    dt_s : ndarray (time,) or float [s]
        Their lengths.
    """
    if schedule.constant:
        return np.broadcast_to(np.float64(schedule.otherwise), local_s.shape)
    edges = _edges(schedule)
    values = [_value_at(schedule, (a + b) / 2.0) for a, b in pairwise(edges)]
    sums: FloatArray = np.concatenate([[0.0], np.cumsum(np.diff(edges) * np.array(values))])

    def passed(time: FloatArray) -> FloatArray:
        """Integral of the schedule from the first midnight to `time`."""
        days = np.floor(time / DAY_S)
        within: FloatArray = np.interp(time - days * DAY_S, edges, sums)
        total: FloatArray = days * sums[-1] + within
        return total

    low = min((*values, schedule.otherwise))
    high = max((*values, schedule.otherwise))
    # The difference of two large sums rounds; a value on neither side of the schedule's is an
    # error of 1e-9 that would otherwise read as "slightly on".
    mean = np.round((passed(local_s + dt_s) - passed(local_s)) / dt_s, 9)
    return np.clip(mean, low, high)


def edges_of(schedule: Schedule) -> frozenset[float]:
    """Times of day at which a schedule changes [s after midnight]; empty if it never does."""
    edges = _edges(schedule)
    values = [_value_at(schedule, (a + b) / 2.0) for a, b in pairwise(edges)]
    return frozenset(
        edge for place, edge in enumerate(edges[:-1]) if values[place] != values[place - 1]
    )


def _edges(schedule: Schedule) -> list[float]:
    found = {0.0, DAY_S}
    for window in schedule.windows:
        found |= {np.mod(window.start_s, DAY_S), np.mod(window.end_s, DAY_S)}
    return sorted(float(edge) for edge in found)


def _value_at(schedule: Schedule, clock: float) -> float:
    for window in schedule.windows:
        if _holds(window, clock):
            return window.value
    return schedule.otherwise


def _holds(window: Span24, clock: float) -> bool:
    if window.end_s <= window.start_s:
        return clock >= window.start_s or clock < window.end_s
    return window.start_s <= clock < window.end_s
