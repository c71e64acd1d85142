"""The days and skies for which the sun's yield is worked out, each cut into short pieces."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from copperpath.site import Site, SiteProblem, make_site
from copperpath.station import ClearSky, SiteSettings, Sky

DAY_S = 86_400.0
PIECE_S = 600.0
PIECES_AN_HOUR = 6

TYPICAL_DAYS = (17, 16, 16, 15, 15, 11, 17, 16, 15, 15, 14, 10)
"""Day of each month whose sun beyond the air is nearest to the month's mean: S. A. Klein, Solar
Energy 19 (1977) 325."""

OVERCAST = 0.25
"""Light under a wholly overcast sky as a share of a clear one's: 1 - 0.75 (8/8)^3.4, F. Kasten and
G. Czeplak, Solar Energy 24 (1980) 177."""

CLEAR = "clear"
CLOUDY = "overcast"
OWN = "file's sky"


@dataclass(frozen=True, slots=True)
class SunDays:
    """Sites by sky, one for each day; and why the file's own sky is not among them ("" if it is,
    or if it is a clear one)."""

    days: tuple[date, ...]
    skies: dict[str, tuple[Site, ...]]
    dark: Site
    own_missing: str


def typical_days(year: int) -> tuple[date, ...]:
    """The typical day of each month."""
    return tuple(date(year, month, day) for month, day in enumerate(TYPICAL_DAYS, 1))


def make_days(settings: SiteSettings, days: Sequence[date], *, months: bool) -> SunDays:
    """Sun, sky and air of these days at the station's place, on its clock.

    Parameters
    ----------
    months : bool
        Each day stands for its month, of which the file's sky then is the mean.

    Raises
    ------
    SiteProblem
        If the place cannot be worked out.
    """
    skies: dict[str, tuple[Site, ...]] = {
        name: tuple(_site(settings, day, ClearSky(share, {})) for day in days)
        for name, share in ((CLEAR, 1.0), (CLOUDY, OVERCAST))
    }
    missing = ""
    if not _is_clear(settings.sky):
        try:
            own = [_of_month(settings.sky, day) if months else settings.sky for day in days]
            skies[OWN] = tuple(
                _site(settings, day, sky) for day, sky in zip(days, own, strict=True)
            )
        except SiteProblem:
            missing = "the file's own sky does not cover " + (
                "all months; `--day` with a day that it covers shows it" if months else "that day"
            )
    dark = _site(settings, days[0], ClearSky(0.0, {}))
    return SunDays(tuple(days), skies, dark, missing)


def _is_clear(sky: Sky) -> bool:
    return isinstance(sky, ClearSky) and {sky.otherwise, *sky.by_date.values()} == {1.0}


def _of_month(sky: Sky, day: date) -> Sky:
    """A sky by date as the mean of the month; any other as it is."""
    if not isinstance(sky, ClearSky):
        return sky
    count = monthrange(day.year, day.month)[1]
    month = [day.replace(day=number) for number in range(1, count + 1)]
    share = sum(sky.by_date.get(each, sky.otherwise) for each in month) / count
    return ClearSky(share, {})


def _site(settings: SiteSettings, day: date, sky: Sky) -> Site:
    begins = datetime(day.year, day.month, day.day, tzinfo=settings.starts.tzinfo)
    return make_site(replace(settings, starts=begins, lasts_s=DAY_S, sky=sky), PIECE_S)
