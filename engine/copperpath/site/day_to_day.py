"""Days that are warmer or colder than usual: an autoregressive process of the first order.

C. W. Richardson, Water Resources Research 17 (1981) 182, has what is left of daily warmest and
coolest temperatures after the mean of the season go so; that one day keeps 0.65 of the day before
is from memory of it. Its spread is what the station says.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.site.place import Place, day_number

KEPT = 0.65
DAY_S = 86_400.0


def warmer_by(spread_k: float, seed: int, time_s: FloatArray, place: Place) -> FloatArray:
    """How much warmer than usual it is, shape (time,) [K]: a number for each noon, straight lines
    between. The same seed gives the same days, counted from the day on which the times begin.

    Parameters
    ----------
    spread_k : float
        Standard deviation from day to day [K].
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC, rising.
    """
    if spread_k == 0.0:
        return np.zeros(time_s.shape)
    first, last = (int(day_number(time_s[[at]], place)[0]) for at in (0, -1))
    days = np.arange(first - 1, last + 2, dtype=np.float64)
    noons_s = (days + 0.5) * DAY_S - place.clock_ahead_s
    return np.interp(time_s, noons_s, days_of(len(days), seed) * spread_k)


def days_of(count: int, seed: int) -> FloatArray:
    """So many days in units of their spread, shape (day,)."""
    chance = np.random.default_rng(seed).standard_normal(count)
    days = np.empty(count)
    days[0] = chance[0]
    for day in range(1, count):
        days[day] = KEPT * days[day - 1] + np.sqrt(1.0 - KEPT**2) * chance[day]
    return days
