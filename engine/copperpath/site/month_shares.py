"""Shares of the clear sky's light by month, worked out where a table's mean light is given.

The share of a month with a mean is such that over all its days, with the straight lines between
the middles of months, that mean results on the plane of the table. So the months hang together and
are worked out at once. A table knows no hills around a station and no rime, so neither counts here.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TypeAlias

import numpy as np

from copperpath.over_year import ByMonth, MonthMean
from copperpath.plugin_api import FloatArray
from copperpath.site.clear_sky import clear_light
from copperpath.site.months import over_months
from copperpath.site.place import Place, SiteProblem
from copperpath.site.plane import plane_light
from copperpath.site.sun import sun_over_time
from copperpath.station import ClearSky, SiteSettings

STEP_S = 1200.0
"""The clear sky's mean over a month is taken over times so far apart."""

DARK_W_M2 = 0.5
"""A month whose clear sky has a smaller mean than this is night; its share counts for nothing."""

MOST_SHARE = 1.5
MOST_SHARE_OF_LITTLE = 5.0
LITTLE_W_M2 = 15.0
"""A table's mean may be so many times that of the clear sky; far more where that is little, for
under a sun of a few degrees the formula has less than half of the sky's light. In December the
typical year of Fairbanks has 1.8 times the formula's clear sky."""

Ground: TypeAlias = tuple[float, tuple[tuple[int, float], ...]]
"""What the ground throws back in most months, and in those that have their own."""


def monthly_shares(sky: ClearSky, year: int, place: Place, settings: SiteSettings) -> ByMonth:
    """Share of the clear sky's light in the middle of each month that has one.

    Parameters
    ----------
    year : int
        Over whose days the means are taken.
    settings : SiteSettings
        With what the ground throws back.

    Raises
    ------
    SiteProblem
        If a mean is far more than the clear sky gives.
    """
    ground = (settings.ground_reflects, tuple(settings.ground_by_month.items()))
    return dict(_shares(tuple(sky.by_month.items()), year, place, ground))


@lru_cache(maxsize=32)
def _shares(
    months: tuple[tuple[int, float | MonthMean], ...],
    year: int,
    place: Place,
    ground: Ground,
) -> tuple[tuple[int, float], ...]:
    shares = {month: each for month, each in months if not isinstance(each, MonthMean)}
    means = {month: each for month, each in months if isinstance(each, MonthMean)}
    if not means:
        return _in_order(shares)
    given = {month for month, _ in months}
    rows, wanted = np.zeros((len(means), len(means))), np.zeros(len(means))
    for row, (month, mean) in enumerate(means.items()):
        time_s = _times(year, month, place)
        clear = _clear_on(time_s, mean, place, ground)
        level = float(clear.mean())
        if level < DARK_W_M2:
            rows[row, row], wanted[row] = 1.0, 1.0
            continue
        most = MOST_SHARE if level > LITTLE_W_M2 else MOST_SHARE_OF_LITTLE
        if mean.mean_w_m2 > most * level:
            raise SiteProblem(_too_much(mean, month, level), "look at the month and at the plane")
        known = {each: shares.get(each, 0.0) for each in given}
        wanted[row] = (
            mean.mean_w_m2 - (clear * over_months(known, 0.0, time_s, place)).mean()
        ) / level
        for column, other in enumerate(means):
            alone = {each: float(each == other) for each in given}
            rows[row, column] = (clear * over_months(alone, 0.0, time_s, place)).mean() / level
    found = np.maximum(np.linalg.solve(rows, wanted), 0.0)
    return _in_order(shares | dict(zip(means, (float(each) for each in found), strict=True)))


def _in_order(shares: ByMonth) -> tuple[tuple[int, float], ...]:
    """Months and shares, January first."""
    return tuple(sorted(shares.items()))


def _times(year: int, month: int, place: Place) -> FloatArray:
    """Middles of the steps of a month on the place's clock, seconds since 1970-01-01 UTC."""
    begins = np.datetime64(f"{year:04}-{month:02}", "M")
    first = begins.astype("datetime64[s]").astype(np.float64) - place.clock_ahead_s
    last = (begins + 1).astype("datetime64[s]").astype(np.float64) - place.clock_ahead_s
    times: FloatArray = np.arange(first, last, STEP_S) + 0.5 * STEP_S
    return times


def _clear_on(time_s: FloatArray, mean: MonthMean, place: Place, ground: Ground) -> FloatArray:
    """The clear sky's light on the plane of a table [W/m²]."""
    sun = sun_over_time(time_s, place)
    reflects = over_months(dict(ground[1]), ground[0], time_s, place)
    return plane_light(clear_light(time_s, place, sun), sun, mean.mount, reflects)


def _too_much(mean: MonthMean, month: int, level: float) -> str:
    day = 24.0 / 1000.0
    return (
        f"`sky` has {mean.mean_w_m2 * day:.3g} kWh/m2/day in month {month}, and on that plane the "
        f"clear sky gives {level * day:.3g} kWh/m2/day"
    )
