"""Hours of a weather file over the steps of a run: hourly energy is kept, dates are matched."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import numpy as np
import pytest
from support.weather_texts import Hour, epw_text

from copperpath.over_year import WeatherFile
from copperpath.plugin_api import Mount, Weather
from copperpath.site.site import Site, make_site
from copperpath.station import SiteSettings
from copperpath_plugins.readers.epw import Epw

EAST = timezone(timedelta(hours=1))
FLAT = Mount(0.0, 180.0)


def said(month: int, day: int, hour: int) -> Hour:
    """Light from 06:00 to 18:00 that is another one each hour; air that tells day and hour."""
    air = day + hour / 100.0
    if not 6 <= hour < 18:
        return Hour(air=air)
    return Hour(100.0 + 40.0 * hour + day, 300.0 + hour, 80.0 + hour, air)


WEATHER = Epw.read(epw_text(said))


def site_of(
    starts: datetime, hours: float, step_s: float = 600.0, weather: Weather = WEATHER
) -> Site:
    file = WeatherFile("w.epw", "epw", weather)
    lasts_s = hours * 3600.0
    settings = SiteSettings(
        *(46.6, 10.3, 2650.0, starts, lasts_s, file, 270.0, 280.0, 0.2, False), air_file=file
    )
    return make_site(settings, step_s)


@pytest.mark.parametrize("step_s", [60.0, 600.0, 1800.0, 3600.0])
def test_every_hour_keeps_its_energy_at_any_step(step_s: float) -> None:
    site = site_of(datetime(2026, 6, 19, tzinfo=EAST), 24.0, step_s)
    light = site.light
    assert light is not None
    for name in ("level", "beam", "diffuse"):
        hourly = getattr(light, name).reshape(24, -1).mean(axis=1)
        wanted = [getattr(said(6, 19, hour), name) for hour in range(24)]
        assert hourly == pytest.approx(wanted, rel=1e-9, abs=1e-6)


def test_a_step_longer_than_an_hour_keeps_the_energy_of_all_of_it() -> None:
    site = site_of(datetime(2026, 6, 19, 5, 30, tzinfo=EAST), 3.0, 10_800.0)
    wanted = (0.5 * 0.0 + said(6, 19, 6).level + said(6, 19, 7).level) * 3600.0
    partly = float(site.plane_irradiance(FLAT)[0]) * 10_800.0 - wanted
    # Of the hour from 08:00 its first half, in which the sun stands a little lower.
    assert 0.40 < partly / (said(6, 19, 8).level * 3600.0) < 0.5


def test_hours_of_the_file_are_those_of_its_own_clock() -> None:
    # 08:00 in UTC+3 is 06:00 of the file, which is in UTC+1.
    clock = timezone(timedelta(hours=3))
    site = site_of(datetime(2026, 6, 19, 8, tzinfo=clock), 1.0)
    assert float(site.plane_irradiance(FLAT).mean()) == pytest.approx(said(6, 19, 6).level)


def test_29_february_is_the_28th() -> None:
    site = site_of(datetime(2028, 2, 29, 12, tzinfo=EAST), 1.0)
    assert float(site.plane_irradiance(FLAT).mean()) == pytest.approx(said(2, 28, 12).level)


def test_a_year_ends_and_begins_again() -> None:
    site = site_of(datetime(2026, 12, 31, 23, tzinfo=EAST), 14.0, 3600.0)
    assert float(site.plane_irradiance(FLAT)[13]) == pytest.approx(said(1, 1, 12).level)


def test_the_light_within_an_hour_rises_before_noon_and_falls_after() -> None:
    even = Epw.read(epw_text(lambda m, d, h: Hour(500.0, 500.0, 100.0)))
    site = site_of(datetime(2026, 6, 19, tzinfo=EAST), 24.0, weather=even)
    level = site.plane_irradiance(FLAT).reshape(24, -1)
    assert np.all(np.diff(level[9]) > 0.0)
    assert np.all(np.diff(level[16]) < 0.0)


def test_a_beam_is_never_more_than_there_is_outside_the_air() -> None:
    odd = Epw.read(epw_text(lambda m, d, h: Hour(500.0, 1200.0, 100.0)))
    site = site_of(datetime(2026, 6, 19, tzinfo=EAST), 24.0, weather=odd)
    assert site.light is not None
    assert float(site.light.beam.max()) < 1325.0  # some 1319 W/m2 in the middle of June


def test_air_is_that_at_the_end_of_an_hour_with_straight_lines_between() -> None:
    site = site_of(datetime(2026, 6, 19, 9, 55, tzinfo=EAST), 1.2, 600.0)
    # 10:00 is the stamp of the hour from 09:00, 10:30 lies half way to that from 10:00.
    found = np.interp(
        [site.settings.starts.timestamp() + s for s in (300.0, 2100.0)], site.middle_s, site.air_k
    )
    assert found - 273.15 == pytest.approx([19.09, 19.095], abs=1e-6)


def test_the_words_name_the_file_and_how_far_off_its_place_is() -> None:
    words = site_of(datetime(2026, 6, 19, tzinfo=EAST), 1.0).sky_words
    assert "w.epw (epw), of a place 0 km away" in words
