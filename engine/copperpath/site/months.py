"""Numbers by month, over time: straight lines between the middles of two neighbouring months that
both have one. Towards a month that has none, a month's number holds to its end."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from copperpath.over_year import ByMonth
from copperpath.plugin_api import FloatArray
from copperpath.site.place import Place


def over_months(
    by_month: ByMonth, otherwise: float, time_s: FloatArray, place: Place
) -> FloatArray:
    """Number at given times, shape (time,); `otherwise` in months that have none.

    Parameters
    ----------
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC.
    """
    if not by_month:
        return np.full(time_s.shape, otherwise)
    own = np.array([by_month.get(month, np.nan) for month in range(1, 13)], dtype=np.float64)
    month, way = month_and_way(time_s, place)
    there = own[month]
    other = own[(month + np.where(way < 0.5, -1, 1)) % 12]
    other = np.where(np.isnan(other), there, other)
    found: FloatArray = there + (other - there) * np.abs(way - 0.5)
    return np.where(np.isnan(there), otherwise, found)


def month_and_way(time_s: FloatArray, place: Place) -> tuple[NDArray[np.int64], FloatArray]:
    """Month on the place's clock, 0 to 11, and how much of it has gone, 0 to 1."""
    local = np.round((time_s + place.clock_ahead_s) * 1e3).astype("int64").astype("datetime64[ms]")
    months = local.astype("datetime64[M]")
    begins = months.astype("datetime64[ms]")
    ends = (months + 1).astype("datetime64[ms]")
    way = (local - begins).astype(np.float64) / (ends - begins).astype(np.float64)
    return months.astype(np.int64) % 12, way


def ends_of(by_month: Mapping[int, tuple[float, float]], end: int) -> ByMonth:
    """One end of a range that each month has."""
    return {month: ends[end] for month, ends in by_month.items()}
