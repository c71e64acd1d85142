"""The site of a run: sun, sky and air over its steps, as the models ask for them.

Steps are as long as asked for, and end early where a schedule changes: its edges are edges of
steps. Light and temperature are those at a step's middle. The run is the first whole number of
steps that is not shorter than asked for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from copperpath.over_year import WeatherFile
from copperpath.plugin_api import AmbientRule, FloatArray, Mount, Schedule
from copperpath.site.aim import aims_over_time
from copperpath.site.air import air_over_day
from copperpath.site.around import around_words, reflects_over, uncovered_over
from copperpath.site.day_to_day import warmer_by
from copperpath.site.horizon import behind
from copperpath.site.hours import changes_of, schedule_over_time
from copperpath.site.light import Light
from copperpath.site.month_shares import monthly_shares
from copperpath.site.months import ends_of, over_months
from copperpath.site.place import Place, SiteProblem, clock_s, make_place
from copperpath.site.plane import light_on, plane_light
from copperpath.site.random_days import means_of, with_days
from copperpath.site.sky import measured_column, measured_light, shaded_light
from copperpath.site.sky_words import clear_words, weather_words
from copperpath.site.sun import Sun, sun_over_time
from copperpath.site.weather import weather_air, weather_light
from copperpath.station import MeasuredSky, SiteSettings, Station

MOST_STEPS = 20_000_000
SHORTEST_STEP_S = 1e-3
"""A schedule's edge this close to the edge of a step is on it."""


@dataclass(frozen=True, slots=True)
class Site:
    """Surroundings over the steps of a run; implements `copperpath.plugin_api.Surroundings`.

    Attributes
    ----------
    step_s : float
        Length of a step that no schedule cuts short [s].
    time_s, middle_s : ndarray (time,)
        Start and middle of each step, seconds since 1970-01-01 UTC.
    dt_s : ndarray (time,)
        Length of each step [s].
    air_k : ndarray (time,)
        Air temperature [K].
    sky_words : str
        In words, how the light was obtained.
    same_light : ndarray (time,) or None
        Measured light that falls on every panel as it is [W/m²].
    light, sun : or None where `same_light` is given
        Light at the ground and position of the sun.
    reflects : ndarray (time,) or None
        Share of the level light that the ground throws back; None is that of the settings.
    uncovered : ndarray (time,) or None
        Share of the light that rime and snow leave; None is all of it.
    """

    settings: SiteSettings
    place: Place
    step_s: float
    time_s: FloatArray
    middle_s: FloatArray
    dt_s: FloatArray
    air_k: FloatArray
    sky_words: str
    same_light: FloatArray | None
    light: Light | None
    sun: Sun | None
    reflects: FloatArray | None = None
    uncovered: FloatArray | None = None

    @property
    def n(self) -> int:
        """Number of steps."""
        return len(self.time_s)

    def plane_irradiance(self, mount: Mount) -> FloatArray:
        """Sunlight on a panel's plane, shape (time,) [W/m²]."""
        light = self._open_plane(mount)
        return light if self.uncovered is None else light * self.uncovered

    def _open_plane(self, mount: Mount) -> FloatArray:
        """The same on a panel that nothing covers."""
        if self.same_light is not None:
            return self.same_light
        assert self.light is not None
        assert self.sun is not None
        reflects = self.settings.ground_reflects if self.reflects is None else self.reflects
        if mount.every_s is None:
            return plane_light(self.light, self.sun, mount, reflects)
        tilt, facing = aims_over_time(self.middle_s, mount.every_s, self.place)
        return light_on(self.light, self.sun, tilt, facing, reflects)

    def schedule(self, schedule: Schedule) -> FloatArray:
        """Mean of a schedule over each step, shape (time,)."""
        return schedule_over_time(schedule, self.time_s + self.place.clock_ahead_s, self.dt_s)

    def temperature(self, rule: AmbientRule) -> FloatArray:
        """A fixed temperature, or the air's plus an offset, shape (time,) [K]."""
        if rule.fixed_k is not None:
            return np.broadcast_to(np.float64(rule.fixed_k), self.time_s.shape)
        return self.air_k + rule.offset_k


def station_site(station: Station, step_s: float) -> Site:
    """The site of a station, its steps cut where any of its schedules changes; see `make_site`."""
    schedules = [
        value
        for device in station.devices
        for value in device.values.values()
        if isinstance(value, Schedule)
    ]
    return make_site(station.site, step_s, schedules)


def make_site(settings: SiteSettings, step_s: float, schedules: Iterable[Schedule] = ()) -> Site:
    """Work out sun, sky and air for a run.

    Parameters
    ----------
    settings : SiteSettings
        Where, when, for how long.
    step_s : float
        Length of a step [s].
    schedules : iterable of Schedule
        Those that cut steps where they change.

    Raises
    ------
    SiteProblem
        If the site cannot be worked out, such as measured light that ends too early.
    """
    place = make_place(settings)
    count = math.ceil(settings.lasts_s / step_s - 1e-9)
    if not 1 <= count <= MOST_STEPS:
        raise SiteProblem(
            f"{settings.lasts_s:.6g} s in steps of {step_s:.6g} s are {count} steps",
            f"between 1 and {MOST_STEPS} steps are possible; change `lasts` or the step",
        )
    time_s, dt_s = steps_of(settings.starts.timestamp(), step_s, count, place, schedules)
    middle_s = time_s + 0.5 * dt_s
    same_light, light, sun, words = _light(settings, place, time_s, dt_s)
    air_k = _air(settings, middle_s, place)
    for array in (time_s, middle_s, dt_s, air_k):
        array.flags.writeable = False
    made = Site(
        settings,
        place,
        step_s,
        time_s,
        middle_s,
        dt_s,
        air_k,
        words + around_words(settings),
        same_light,
        light,
        sun,
        reflects_over(settings, middle_s, place),
        uncovered_over(settings, middle_s, place),
    )
    return with_days(made, means_of(made), settings.seed) if settings.random_days else made


def steps_of(
    starts_s: float, step_s: float, count: int, place: Place, schedules: Iterable[Schedule]
) -> tuple[FloatArray, FloatArray]:
    """Starts and lengths (time,) of `count` steps, cut where a schedule changes [s].

    Parameters
    ----------
    starts_s : float
        Seconds since 1970-01-01 UTC.
    """
    bounds = starts_s + step_s * np.arange(count + 1, dtype=np.float64)
    ends_s, ahead = float(bounds[-1]), place.clock_ahead_s
    found = [changes_of(each, starts_s + ahead, ends_s + ahead) - ahead for each in set(schedules)]
    cuts = np.unique(np.concatenate([np.zeros(0), *found]))
    nearest = np.abs(cuts - (starts_s + step_s * np.round((cuts - starts_s) / step_s)))
    cuts = cuts[nearest > SHORTEST_STEP_S]
    if len(cuts):
        bounds = np.union1d(bounds, cuts)
        lengths: FloatArray = np.diff(bounds)
    else:
        lengths = np.full(count, float(step_s))
    return np.ascontiguousarray(bounds[:-1]), lengths


def cut_site(site: Site, span: slice) -> Site:
    """The site over some of its steps, once drives have been made; its light stays whole."""
    return replace(
        site,
        time_s=site.time_s[span],
        middle_s=site.middle_s[span],
        dt_s=site.dt_s[span],
        air_k=site.air_k[span],
    )


def _light(
    settings: SiteSettings, place: Place, time_s: FloatArray, dt_s: FloatArray
) -> tuple[FloatArray | None, Light | None, Sun | None, str]:
    """Light at the steps' middles and how it was obtained."""
    sky, middle_s = settings.sky, time_s + 0.5 * dt_s
    if isinstance(sky, MeasuredSky) and sky.kind == "plane":
        same = measured_column(sky, "plane", middle_s, settings)
        same.flags.writeable = False
        words = f"measured on the panels' plane, {sky.path}, straight lines between rows"
        return same, None, None, words
    sun = sun_over_time(middle_s, place)
    if isinstance(sky, MeasuredSky):
        light, how = measured_light(sky, middle_s, sun, settings)
        return None, light, sun, f"measured on the level, {sky.path}; {how}"
    if isinstance(sky, WeatherFile):
        light = behind(weather_light(sky.weather, time_s, dt_s, place), sun, settings.horizon)
        return None, light, sun, weather_words(sky, place)
    by_month = monthly_shares(sky, settings.starts.year, place, settings)
    light = shaded_light(sky, by_month, middle_s, place, sun)
    return None, behind(light, sun, settings.horizon), sun, clear_words(sky, light, sun)


def _air(settings: SiteSettings, middle_s: FloatArray, place: Place) -> FloatArray:
    """Air temperature at the steps' middles [K]."""
    if settings.air_file is not None:
        return weather_air(settings.air_file.weather, middle_s)
    by_month = settings.air_by_month
    low, high = (
        over_months(ends_of(by_month, end), usual, middle_s, place)
        for end, usual in enumerate((settings.air_low_k, settings.air_high_k))
    )
    usual_k = air_over_day(clock_s(middle_s, place), low, high)
    return usual_k + warmer_by(settings.air_spread_k, settings.seed, middle_s, place)
