"""What lies on the panels and on the ground before them, over time."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.site.months import over_months
from copperpath.site.place import Place
from copperpath.station import MeasuredSky, SiteSettings


def reflects_over(settings: SiteSettings, time_s: FloatArray, place: Place) -> FloatArray | None:
    """Share of the level light that the ground throws back, shape (time,); None where it is the
    same all the year."""
    if not settings.ground_by_month:
        return None
    return over_months(settings.ground_by_month, settings.ground_reflects, time_s, place)


def uncovered_over(settings: SiteSettings, time_s: FloatArray, place: Place) -> FloatArray | None:
    """Share of the light that rime and snow on the panels leave, one after the other, shape
    (time,); None where nothing lies on them."""
    if not settings.covers:
        return None
    left = np.ones(time_s.shape)
    for cover in settings.covers:
        left = left * (1.0 - over_months(cover.by_month, cover.otherwise, time_s, place))
    return left


def around_words(settings: SiteSettings) -> str:
    """In words, what horizon and cover do to the light; empty where there is neither."""
    words = ""
    if settings.horizon and isinstance(settings.sky, MeasuredSky):
        words += "; measured light knows its horizon, so the one given does not count"
    elif settings.horizon:
        highest = max(height for _, height in settings.horizon)
        words += f"; no sun behind a horizon of up to {highest:.3g} deg"
    kinds = " and ".join(cover.kind for cover in settings.covers)
    return words + (f"; less what {kinds} on the panels takes" if kinds else "")
