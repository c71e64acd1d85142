"""Where a panel points that is turned to the sun every so many hours.

It is aimed at sunrise and then every so many hours while the sun is up, each time straight at the
sun, and stands between; overnight it stands as it was aimed last. Where the sun does not set, the
hours count from the midnight before the first day of the run, on the station's clock.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.site.place import Place
from copperpath.site.sun import sun_over_time

DAY_S = 86_400.0
LOOK_S = 300.0
HALVINGS = 9
"""Sunrise and sunset are looked for so often, and then closer by halves: good to a second."""

JUST_BEFORE_S = 1.0
"""At sunset itself nobody aims any more."""


def aims_over_time(
    time_s: FloatArray, every_s: float, place: Place
) -> tuple[FloatArray, FloatArray]:
    """Tilt from level and direction faced (time,) of a panel aimed every so often [degrees].

    Parameters
    ----------
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC, rising.
    every_s : float
        Time from one aim to the next [s].
    """
    sun = sun_over_time(_last_aims(time_s, every_s, place), place)
    return np.clip(sun.apparent_zenith_deg, 0.0, 90.0), sun.azimuth_deg


def _last_aims(time_s: FloatArray, every_s: float, place: Place) -> FloatArray:
    """When the panel was aimed last, for each time; itself where it never was, which is where the
    sun has not risen yet [s]."""
    rises, sets = _days_of_sun(time_s, place)
    if len(rises) == 0:
        return time_s
    day = np.searchsorted(rises, time_s, side="right") - 1
    rose = rises[np.maximum(day, 0)]
    # A small part of a second keeps an aim at exactly the time asked from falling before it.
    up = np.minimum(time_s, sets[np.maximum(day, 0)] - JUST_BEFORE_S) - rose
    aims: FloatArray = rose + every_s * np.floor(np.maximum(up, 0.0) / every_s + 1e-9)
    return np.where(day < 0, time_s, aims)


def _days_of_sun(time_s: FloatArray, place: Place) -> tuple[FloatArray, FloatArray]:
    """Each sunrise, or begin of the look, and the sunset, or end of the look, after it [s]."""
    ahead = place.clock_ahead_s
    begin = (np.floor((time_s[0] + ahead) / DAY_S) - 1.0) * DAY_S - ahead
    looks = np.arange(begin, time_s[-1] + 2.0 * LOOK_S, LOOK_S)
    height = sun_over_time(looks, place).apparent_elevation_deg
    crossing = np.flatnonzero((height[:-1] > 0.0) != (height[1:] > 0.0))
    rising = height[crossing + 1] > 0.0
    before = looks[crossing]
    for halving in range(1, HALVINGS + 1 if len(crossing) else 1):
        half = before + LOOK_S / 2.0**halving
        later = (sun_over_time(half, place).apparent_elevation_deg > 0.0) != rising
        before = np.where(later, half, before)
    after = before + LOOK_S / 2.0**HALVINGS
    rises, sets = after[rising], after[~rising]
    if height[0] > 0.0:
        rises = np.concatenate([[begin], rises])
    if height[-1] > 0.0:
        sets = np.concatenate([sets, [looks[-1] + LOOK_S]])
    return rises, sets
