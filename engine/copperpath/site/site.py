"""The site of a run: sun, sky and air over its steps, as the models ask for them.

Step k covers the seconds from starts + k step to starts + (k + 1) step. Light and temperature are
those at its middle. A last shorter step does not exist: the run is a whole number of steps, the
first that is not shorter than asked for.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import AmbientRule, FloatArray, Mount, Schedule
from copperpath.site.air import air_over_day
from copperpath.site.hours import schedule_over_time
from copperpath.site.place import Place, SiteProblem, clock_s, make_place
from copperpath.site.plane import plane_light
from copperpath.site.sky import Light, clear_light, measured_column, measured_light
from copperpath.site.sun import Sun, sun_over_time
from copperpath.station import ClearSky, MeasuredSky, SiteSettings

MOST_STEPS = 20_000_000


@dataclass(frozen=True, slots=True)
class Site:
    """Surroundings over the steps of a run; implements `copperpath.plugin_api.Surroundings`.

    Attributes
    ----------
    time_s, middle_s : ndarray (time,)
        Start and middle of each step, seconds since 1970-01-01 UTC.
    air_k : ndarray (time,)
        Air temperature [K].
    sky_words : str
        In words, how the light was obtained.
    same_light : ndarray (time,) or None
        Measured light that falls on every panel as it is [W/m²].
    light, sun : or None where `same_light` is given
        Light at the ground and position of the sun.
    """

    settings: SiteSettings
    place: Place
    step_s: float
    time_s: FloatArray
    middle_s: FloatArray
    air_k: FloatArray
    sky_words: str
    same_light: FloatArray | None
    light: Light | None
    sun: Sun | None

    @property
    def n(self) -> int:
        """Number of steps."""
        return len(self.time_s)

    def plane_irradiance(self, mount: Mount) -> FloatArray:
        """Sunlight on a panel's plane, shape (time,) [W/m²]."""
        if self.same_light is not None:
            return self.same_light
        assert self.light is not None
        assert self.sun is not None
        return plane_light(self.light, self.sun, mount, self.settings.ground_reflects)

    def schedule(self, schedule: Schedule) -> FloatArray:
        """Mean of a schedule over each step, shape (time,)."""
        return schedule_over_time(schedule, self.time_s + self.place.clock_ahead_s, self.step_s)

    def temperature(self, rule: AmbientRule) -> FloatArray:
        """A fixed temperature, or the air's plus an offset, shape (time,) [K]."""
        if rule.fixed_k is not None:
            return np.full(self.time_s.shape, rule.fixed_k)
        return self.air_k + rule.offset_k


def make_site(settings: SiteSettings, step_s: float) -> Site:
    """Work out sun, sky and air for a run.

    Parameters
    ----------
    settings : SiteSettings
        Where, when, for how long.
    step_s : float
        Length of a step [s].

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
    time_s = settings.starts.timestamp() + step_s * np.arange(count, dtype=np.float64)
    middle_s = time_s + 0.5 * step_s
    same_light, light, sun, words = _light(settings, place, middle_s)
    air_k = air_over_day(clock_s(middle_s, place), settings.air_low_k, settings.air_high_k)
    for array in (time_s, middle_s, air_k):
        array.flags.writeable = False
    return Site(settings, place, step_s, time_s, middle_s, air_k, words, same_light, light, sun)


def _light(
    settings: SiteSettings, place: Place, middle_s: FloatArray
) -> tuple[FloatArray | None, Light | None, Sun | None, str]:
    """Light at the steps' middles and how it was obtained."""
    sky = settings.sky
    if isinstance(sky, MeasuredSky) and sky.kind == "plane":
        same = measured_column(sky, "plane", middle_s, settings)
        same.flags.writeable = False
        words = f"measured on the panels' plane, {sky.path}, straight lines between rows"
        return same, None, None, words
    sun = sun_over_time(middle_s, place)
    if isinstance(sky, MeasuredSky):
        light, how = measured_light(sky, middle_s, sun, settings)
        return None, light, sun, f"measured on the level, {sky.path}; {how}"
    return None, clear_light(sky, middle_s, place, sun), sun, _clear_words(sky)


def _clear_words(sky: ClearSky) -> str:
    shares = {sky.otherwise, *sky.by_date.values()}
    if shares == {1.0}:
        share = "clear sky"
    elif len(shares) == 1:
        share = f"{sky.otherwise:.0%} of the clear sky's light"
    else:
        share = f"{min(shares):.0%} to {max(shares):.0%} of the clear sky's light, by date"
    return f"{share} (formula of Ineichen and Perez, monthly turbidity map bundled with pvlib)"
