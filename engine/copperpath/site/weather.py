"""Light and air from a year of hours, matched to the run by month, day and hour of its clock.

The light of an hour is a mean; within the hour it follows the sun's height (the beam: whether the
sun is up), so that over the hour it comes to that mean. A step gets its own mean, so no energy is
lost however steps and hours lie; but a beam is never more than there is outside the air. What is
asked of 29 February comes from 28 February where the file has none.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from copperpath.plugin_api import FloatArray, Weather
from copperpath.site.light import Light
from copperpath.site.place import Place
from copperpath.site.sun import sun_over_time

HOUR_S = 3600.0
PIECES = 12
"""An hour is cut into so many pieces."""

TWILIGHT = 0.02
"""Sine of the sun's height that is added, so that an hour of twilight keeps what light it has."""


def weather_light(weather: Weather, time_s: FloatArray, dt_s: FloatArray, place: Place) -> Light:
    """Mean light over each step, arrays (time,).

    Parameters
    ----------
    time_s, dt_s : ndarray (time,) [s]
        Starts of the steps, seconds since 1970-01-01 UTC, and their lengths.
    """
    hours_s = _hours(weather, float(time_s[0]), float(time_s[-1] + dt_s[-1]))
    rows = rows_of(weather, hours_s)
    piece_s = HOUR_S / PIECES
    edges = np.append(
        (hours_s[:, None] + piece_s * np.arange(PIECES)).ravel(), hours_s[-1] + HOUR_S
    )
    sun = sun_over_time(edges[:-1] + 0.5 * piece_s, place)
    height = np.maximum(np.sin(np.radians(sun.apparent_elevation_deg)), 0.0)
    up = (sun.apparent_elevation_deg > 0.0).astype(np.float64)
    parts = []
    for hourly, shape in (
        (weather.level, height),
        (weather.beam, up),
        (weather.diffuse, height),
    ):
        weights = (shape + TWILIGHT).reshape(-1, PIECES)
        spread = hourly[rows, None] * weights / weights.mean(axis=1, keepdims=True)
        parts.append(spread.ravel())
    parts[1] = np.minimum(parts[1], sun.beyond_air)
    level, beam, diffuse = (_means(edges, values, time_s, dt_s) for values in parts)
    return Light(level, beam, diffuse, np.ones(len(time_s)))


def weather_air(weather: Weather, time_s: FloatArray) -> FloatArray:
    """Air temperature at given times, on straight lines between the ends of hours [K]."""
    hours_s = _hours(weather, float(time_s[0]) - HOUR_S, float(time_s[-1]) + HOUR_S)
    ends_s = hours_s + HOUR_S
    return np.interp(time_s, ends_s, weather.air_k[rows_of(weather, hours_s)])


def rows_of(weather: Weather, hours_s: FloatArray) -> NDArray[np.int64]:
    """The row of each hour, given by its begin, seconds since 1970-01-01 UTC."""
    table = np.full((13, 32, 24), -1, dtype=np.int64)
    month, day, hour = (
        each.astype(np.int64) for each in (weather.month, weather.day, weather.hour)
    )
    table[month, day, hour] = np.arange(len(month))
    leap = table[2, 29] < 0
    table[2, 29, leap] = table[2, 28, leap]
    local = np.round(hours_s + weather.clock_ahead_s).astype("int64").astype("datetime64[s]")
    months = local.astype("datetime64[M]")
    days = local.astype("datetime64[D]")
    which = (days - months.astype("datetime64[D]")).astype(np.int64) + 1
    since = (local - days.astype("datetime64[s]")).astype(np.int64) // 3600
    found: NDArray[np.int64] = table[months.astype(np.int64) % 12 + 1, which, since]
    return found


def _hours(weather: Weather, starts_s: float, ends_s: float) -> FloatArray:
    """Begins of the file's hours that cover a span, seconds since 1970-01-01 UTC."""
    ahead = weather.clock_ahead_s
    first = np.floor((starts_s + ahead) / HOUR_S)
    last = np.ceil((ends_s + ahead) / HOUR_S)
    hours: FloatArray = np.arange(first, max(last, first + 1.0)) * HOUR_S - ahead
    return hours


def _means(
    edges: FloatArray, values: FloatArray, time_s: FloatArray, dt_s: FloatArray
) -> FloatArray:
    """Mean over each step of what is the same between each two edges."""
    since = edges - edges[0]
    sums = np.concatenate([[0.0], np.cumsum(values * np.diff(since))])
    begun = np.interp(time_s - edges[0], since, sums)
    ended = np.interp(time_s + dt_s - edges[0], since, sums)
    means: FloatArray = np.maximum((ended - begun) / dt_s, 0.0)
    return means
