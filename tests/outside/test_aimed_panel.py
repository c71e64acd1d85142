"""A panel that is aimed anew every so often, against pvlib used by itself: its positions
of the sun, its sunrise and its light on a plane, from the clear sky of the site."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from typing import Any

import numpy as np
import pandas
import pytest
from pvlib.irradiance import get_total_irradiance
from pvlib.location import Location

from copperpath.plugin_api import FloatArray, Mount
from copperpath.site import Site, make_site
from copperpath.station import ClearSky, SiteSettings

ZONE = timezone(timedelta(hours=1))
STEP_S = 300.0
HOUR = 3600.0


def alps(**changed: Any) -> Site:
    """Two clear days in October in the Alps."""
    plain: dict[str, Any] = {
        "latitude_deg": 46.6,
        "longitude_deg": 10.3,
        "altitude_m": 2650.0,
        "starts": datetime(2026, 10, 15, 0, tzinfo=ZONE),
        "lasts_s": 48 * HOUR,
        "sky": ClearSky(1.0, {}),
        "air_low_k": 270.0,
        "air_high_k": 280.0,
        "ground_reflects": 0.2,
        "repeats": False,
    }
    return make_site(SiteSettings(**(plain | changed)), STEP_S)


def place_of(site: Site) -> Location:
    settings = site.settings
    return Location(
        settings.latitude_deg, settings.longitude_deg, "UTC", altitude=settings.altitude_m
    )


def times(time_s: FloatArray) -> pandas.DatetimeIndex:
    return pandas.to_datetime(np.round(time_s * 1e3), unit="ms", utc=True)


def expected(site: Site, tilt: Any, facing: Any) -> FloatArray:
    """Light on a plane by pvlib alone [W/m²]."""
    sun = place_of(site).get_solarposition(times(site.middle_s))
    assert site.light is not None
    assert site.sun is not None
    found = get_total_irradiance(
        tilt,
        facing,
        sun["apparent_zenith"],
        sun["azimuth"],
        site.light.beam,
        site.light.level,
        site.light.diffuse,
        dni_extra=site.sun.beyond_air,
        albedo=site.settings.ground_reflects,
        model="haydavies",
    )
    return np.maximum(np.nan_to_num(found["poa_global"].to_numpy()), 0.0)


def sunrises(site: Site) -> FloatArray:
    """When the middle of the sun comes over the horizon, from looks ten seconds apart [s]."""
    looks = np.arange(site.time_s[0], site.time_s[-1], 10.0)
    up = place_of(site).get_solarposition(times(looks))["apparent_elevation"].to_numpy() > 0.0
    return looks[1:][up[1:] & ~up[:-1]]


def by_day(site: Site) -> np.ndarray:
    assert site.sun is not None
    return site.sun.apparent_elevation_deg > 0.5


def test_aimed_without_end_it_follows_the_sun_on_two_axes() -> None:
    site = alps()
    sun = place_of(site).get_solarposition(times(site.middle_s))
    followed = expected(site, sun["apparent_zenith"].clip(0.0, 90.0), sun["azimuth"])
    found = site.plane_irradiance(Mount(0.0, 180.0, 1.0))
    assert found[by_day(site)] == pytest.approx(followed[by_day(site)], rel=1e-4)
    assert found.sum() == pytest.approx(followed.sum(), rel=1e-4)


def test_aimed_once_a_day_it_stands_as_the_sun_rose() -> None:
    """Upright, facing the sunrise."""
    site = alps(lasts_s=24 * HOUR)
    rise = sunrises(site)[:1]
    azimuth = float(place_of(site).get_solarposition(times(rise))["azimuth"].iloc[0])
    fixed = expected(site, 90.0, azimuth)
    found = site.plane_irradiance(Mount(0.0, 180.0, 24 * HOUR))
    day = by_day(site)
    assert found[day].sum() == pytest.approx(fixed[day].sum(), rel=1e-3)


def test_aimed_every_three_hours_it_stands_between_as_the_sun_stood() -> None:
    site = alps()
    rises = sunrises(site)
    assert len(rises) == 2
    rose = rises[np.maximum(np.searchsorted(rises, site.middle_s) - 1, 0)]
    since = np.maximum(site.middle_s - rose, 0.0)
    aimed = rose + 3 * HOUR * np.floor(since / (3 * HOUR))
    at = place_of(site).get_solarposition(times(aimed))
    between = expected(
        site, at["apparent_zenith"].clip(0.0, 90.0).to_numpy(), at["azimuth"].to_numpy()
    )
    day = by_day(site)
    found = site.plane_irradiance(Mount(0.0, 180.0, 3 * HOUR))
    assert found[day].sum() == pytest.approx(between[day].sum(), rel=1e-3)


def test_the_oftener_it_is_aimed_the_more_light_it_gets() -> None:
    site = alps()
    sums = [
        site.plane_irradiance(Mount(0.0, 180.0, hours * HOUR)).sum() for hours in (0.25, 1.0, 3.0)
    ]
    assert sums[0] > sums[1] > sums[2]


def test_where_the_sun_does_not_set_the_hours_count_from_midnight() -> None:
    north = alps(
        latitude_deg=78.2,
        longitude_deg=15.6,
        altitude_m=10.0,
        starts=datetime(2026, 6, 20, 9, tzinfo=ZONE),
        lasts_s=12 * HOUR,
    )
    hour = np.floor((north.middle_s - datetime(2026, 6, 20, tzinfo=ZONE).timestamp()) / HOUR)
    aimed = datetime(2026, 6, 20, tzinfo=ZONE).timestamp() + HOUR * 6 * np.floor(hour / 6)
    at = place_of(north).get_solarposition(times(aimed))
    wanted = expected(north, at["apparent_zenith"].to_numpy(), at["azimuth"].to_numpy())
    assert north.plane_irradiance(Mount(0.0, 180.0, 6 * HOUR)) == pytest.approx(wanted, rel=1e-3)


def test_in_the_polar_night_it_gets_no_light() -> None:
    dark = alps(latitude_deg=78.2, starts=datetime(2026, 12, 20, 9, tzinfo=ZONE))
    assert dark.plane_irradiance(Mount(0.0, 180.0, HOUR)).max() == 0.0
