"""The days of a site drawn at random: what they are in the mean, and the site with them in it.

The means are those that the file gives, read off the straight lines between months at each noon.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.site.day_to_day import KEPT
from copperpath.site.hours import FIRST_DAY
from copperpath.site.light import Light
from copperpath.site.months import over_months
from copperpath.site.place import SiteProblem, day_number
from copperpath.site.random_weather import LEAST_CLEARNESS, LIGHT_REMEMBERS, DayMeans, draw_days
from copperpath.site.sun import Sun
from copperpath.station import ClearSky, SiteSettings

if TYPE_CHECKING:
    from copperpath.site.site import Site

DAY_S = 86_400.0
DARK_W_M2 = 1.0
"""A day with less mean light than this has no clearness to speak of."""

USUAL_CLEARNESS = 0.7
"""Clear sky over light outside the atmosphere, on such a day."""


def need_clear_sky(settings: SiteSettings) -> ClearSky:
    """The sky, which must be a share of the clear one for days to be drawn.

    Raises
    ------
    SiteProblem
        If it comes from a file.
    """
    if isinstance(settings.sky, ClearSky):
        return settings.sky
    raise SiteProblem(
        f"the light of each day stands in `{settings.sky.path}`, so no days can be drawn at random",
        "write `sky` as a share of the clear sky, such as `sky 50 % of clear`, or without "
        "`random_days` run the days of the file",
    )


def means_of(site: Site) -> DayMeans:
    """What the days of a site are in the mean."""
    settings, place, light, sun = site.settings, site.place, site.light, site.sun
    sky = need_clear_sky(settings)
    assert light is not None
    assert sun is not None
    day = _day(site)
    steps = np.bincount(day)
    first = int(day_number(site.middle_s[:1], place)[0])
    numbers = first + np.arange(len(steps), dtype=np.float64)
    noons_s = (numbers + 0.5) * DAY_S - place.clock_ahead_s
    dated = {each.toordinal() - FIRST_DAY for each in sky.by_date}
    return DayMeans(
        share=np.bincount(day, light.share) / steps,
        least=_least(day, steps, light, sun),
        given=np.array([number in dated for number in numbers]),
        covered=tuple(
            over_months(each.by_month, each.otherwise, noons_s, place) for each in settings.covers
        ),
        spell_days=settings.cover_spell_s / DAY_S,
    )


def _least(day: np.ndarray, steps: np.ndarray, light: Light, sun: Sun) -> FloatArray:
    """Share of the clear sky's light under the darkest cloud, each day."""
    upright = np.maximum(np.cos(np.radians(sun.zenith_deg)), 0.0)
    beyond = np.bincount(day, sun.beyond_air * upright)
    clear = np.bincount(day, light.level)
    bright = (clear > DARK_W_M2 * steps) & (beyond > clear)
    clearness = np.where(bright, clear / np.maximum(beyond, 1.0), USUAL_CLEARNESS)
    return LEAST_CLEARNESS / np.maximum(clearness, 2.0 * LEAST_CLEARNESS)


def with_days(site: Site, means: DayMeans, seed: int) -> Site:
    """The same site with the light of its days drawn, and what covers the panels; the air stays."""
    days = draw_days(means, seed)
    day = _day(site)
    assert site.light is not None
    return replace(
        site,
        light=replace(site.light, share=days.share[day]),
        uncovered=np.where(days.covered, 0.0, 1.0)[day] if means.covered else None,
        sky_words=f"{site.sky_words}; {random_words(site.settings)}, seed {seed}",
    )


def random_words(settings: SiteSettings) -> str:
    """How days are drawn, in words."""
    words = (
        "each day drawn at random about these means (Graham and others 1988, distribution of Bendt "
        f"and others 1981, lag-one correlation {LIGHT_REMEMBERS:g})"
    )
    if settings.covers:
        kinds = " and ".join(each.kind for each in settings.covers)
        spell = settings.cover_spell_s / DAY_S
        words += f"; {kinds} on whole days, in spells of {spell:.3g} days in the mean"
    if settings.air_spread_k > 0.0:
        spread = settings.air_spread_k
        words += f"; air off its mean by {spread:.3g} K, lag-one correlation {KEPT:g}"
    else:
        words += "; no day is warmer or colder than its month, as no `air_spread` is given"
    return words


def _day(site: Site) -> np.ndarray:
    """The day of each step on the place's clock, from 0."""
    days: np.ndarray = day_number(site.middle_s, site.place).astype(np.int64)
    since: np.ndarray = days - days[0]
    return since
