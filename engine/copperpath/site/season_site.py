"""One site under many random skies: what does not change from season to season is worked out once.

Light on a plane is proportional to the share of the clear sky's light, so the clear light on each
plane is kept and scaled; schedules do not know the weather.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

import numpy as np

from copperpath.plugin_api import AmbientRule, FloatArray, Mount, Schedule
from copperpath.site.day_to_day import warmer_by
from copperpath.site.random_days import means_of, need_clear_sky, with_days
from copperpath.site.random_weather import DayMeans
from copperpath.site.site import Site, make_site
from copperpath.station import SiteSettings


@dataclass(frozen=True, slots=True)
class Seasons:
    """A site with its days at their means, and what is known of its days."""

    site: Site
    means: DayMeans
    clear: dict[Mount, FloatArray] = field(default_factory=dict)
    hours: dict[Schedule, FloatArray] = field(default_factory=dict)

    def season(self, seed: int) -> SeasonSite:
        """The season of a seed."""
        usual = self.site
        own = replace(usual.settings, seed=seed)
        warmer_k = warmer_by(own.air_spread_k, seed, usual.middle_s, usual.place)
        drawn = with_days(usual, self.means, seed)
        return SeasonSite(self, replace(drawn, settings=own, air_k=usual.air_k + warmer_k))

    def clear_light(self, mount: Mount) -> FloatArray:
        """The clear sky's light on a plane (time,) [W/m²]."""
        if mount not in self.clear:
            light = self.site.light
            assert light is not None
            whole = replace(light, share=np.ones(self.site.n))
            whole_site = replace(self.site, light=whole, uncovered=None)
            self.clear[mount] = whole_site.plane_irradiance(mount)
        return self.clear[mount]

    def schedule(self, schedule: Schedule) -> FloatArray:
        """Mean of a schedule over each step (time,)."""
        if schedule not in self.hours:
            self.hours[schedule] = self.site.schedule(schedule)
        return self.hours[schedule]


@dataclass(frozen=True, slots=True)
class SeasonSite:
    """The surroundings of one season; implements `copperpath.plugin_api.Surroundings`."""

    seasons: Seasons
    site: Site

    @property
    def n(self) -> int:
        """Number of steps."""
        return self.site.n

    @property
    def dt_s(self) -> FloatArray:
        """Length of each step (time,) [s]."""
        return self.site.dt_s

    @property
    def air_k(self) -> FloatArray:
        """Air temperature (time,) [K]."""
        return self.site.air_k

    def plane_irradiance(self, mount: Mount) -> FloatArray:
        """Sunlight on a panel's plane (time,) [W/m²]."""
        light, uncovered = self.site.light, self.site.uncovered
        assert light is not None
        found = self.seasons.clear_light(mount) * light.share
        return found if uncovered is None else found * uncovered

    def schedule(self, schedule: Schedule) -> FloatArray:
        """Mean of a schedule over each step (time,)."""
        return self.seasons.schedule(schedule)

    def temperature(self, rule: AmbientRule) -> FloatArray:
        """A fixed temperature, or the air's plus an offset (time,) [K]."""
        return self.site.temperature(rule)


def make_seasons(
    settings: SiteSettings, step_s: float, schedules: Iterable[Schedule] = ()
) -> Seasons:
    """The site of a station, ready for its seasons to be drawn.

    Raises
    ------
    SiteProblem
        If its light is measured, or it cannot be worked out at all.
    """
    need_clear_sky(settings)
    plain = replace(settings, random_days=False, air_spread_k=0.0)
    site = replace(make_site(plain, step_s, schedules), settings=settings)
    return Seasons(site, means_of(site))
