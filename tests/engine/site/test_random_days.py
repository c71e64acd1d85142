"""A site with its days drawn at random, alone and as one season of many."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta, timezone
from typing import Any

import numpy as np
import pytest

from copperpath.plugin_api import Mount
from copperpath.site import Site, SiteProblem, make_site
from copperpath.site.random_days import means_of
from copperpath.site.season_site import make_seasons
from copperpath.station import ClearSky, Cover, MeasuredSky, SiteSettings

ZONE = timezone(timedelta(hours=1))
STEEP = Mount(75.0, 180.0)
HOUR = 3600.0


def _settings(**changed: Any) -> SiteSettings:
    plain: dict[str, Any] = {
        "latitude_deg": 46.6,
        "longitude_deg": 10.3,
        "altitude_m": 2650.0,
        "starts": datetime(2026, 12, 1, tzinfo=ZONE),
        "lasts_s": 31 * 24 * HOUR,
        "sky": ClearSky(0.5, {}),
        "air_low_k": 261.15,
        "air_high_k": 267.15,
        "ground_reflects": 0.2,
        "repeats": False,
        "air_spread_k": 4.0,
        "covers": (Cover("rime", 0.3, {}),),
    }
    return SiteSettings(**(plain | changed))


def _by_day(site: Site) -> np.ndarray:
    """Energy on the steep plane, each day of a site in steps of an hour [Wh/m2]."""
    return site.plane_irradiance(STEEP).reshape(-1, 24).sum(axis=1)


def test_days_without_chance_are_all_alike() -> None:
    site = make_site(_settings(air_spread_k=0.0), HOUR)
    assert site.light is not None
    assert np.unique(site.light.share).tolist() == [0.5]
    assert np.unique(site.air_k.reshape(-1, 24).mean(axis=1).round(6)).size == 1


def test_a_seed_draws_days_that_differ() -> None:
    one = make_site(_settings(random_days=True, seed=3), HOUR)
    assert one.light is not None
    days = one.light.share.reshape(-1, 24)
    assert np.all(days == days[:, :1])
    assert np.unique(days[:, 0]).size == 31
    assert "seed 3" in one.sky_words


def test_a_season_of_many_is_the_run_with_its_seed() -> None:
    """So the worst of many can be looked at in full."""
    seasons = make_seasons(_settings(), HOUR)
    for seed in (3, 4):
        alone = make_site(_settings(random_days=True, seed=seed), HOUR)
        season = seasons.season(seed)
        assert np.allclose(season.plane_irradiance(STEEP), alone.plane_irradiance(STEEP))
        assert np.allclose(season.air_k, alone.air_k)


def test_rime_leaves_no_light_on_its_days() -> None:
    site = make_site(_settings(random_days=True, seed=5), HOUR)
    assert site.uncovered is not None
    rimed = site.uncovered.reshape(-1, 24)[:, 0] == 0.0
    assert rimed.any()
    assert np.array_equal(_by_day(site) == 0.0, rimed)


def test_light_over_many_seasons_is_that_of_the_mean_days() -> None:
    """The mean of 31 days is off by about a tenth in one season, and by a 20th of that in 400."""
    mean = _by_day(make_site(_settings(), HOUR)).sum()
    seasons = make_seasons(_settings(), HOUR)
    found = [season.plane_irradiance(STEEP).sum() for season in map(seasons.season, range(400))]
    spread = np.std(found) / mean
    assert 0.05 < spread < 0.4
    assert np.mean(found) == pytest.approx(mean, rel=4 * spread / 20)


def test_air_over_many_seasons_is_that_of_the_mean_days() -> None:
    seasons = make_seasons(_settings(), HOUR)
    found = [seasons.season(seed).air_k.mean() for seed in range(400)]
    usual = make_site(_settings(air_spread_k=0.0), HOUR).air_k.mean()
    assert np.mean(found) == pytest.approx(usual, abs=4 * np.std(found) / 20)


def test_a_day_with_a_sky_of_its_own_keeps_it() -> None:
    sky = ClearSky(0.5, {date(2026, 12, 10): 0.9})
    site = make_site(_settings(sky=sky, random_days=True), HOUR)
    assert site.light is not None
    assert site.light.share.reshape(-1, 24)[9, 0] == pytest.approx(0.9)


def test_the_darkest_day_has_a_twentieth_of_the_light_beyond_the_air() -> None:
    """On the level, under a clear sky of clearness 0.55 to 0.85: worked out by hand."""
    least = means_of(make_site(_settings(), HOUR)).least
    assert np.all((least > 0.05 / 0.85) & (least < 0.05 / 0.55))


def test_the_night_of_the_pole_has_days_too() -> None:
    far = _settings(latitude_deg=78.2, altitude_m=0.0)
    site = make_site(replace(far, random_days=True), HOUR)
    assert np.all(site.plane_irradiance(STEEP) == 0.0)


def test_days_that_are_measured_cannot_be_drawn() -> None:
    sky = MeasuredSky("sun.csv", "plane", np.array([0.0, 1.0]), {"plane": np.array([0.0, 0.0])})
    with pytest.raises(SiteProblem, match=r"`sun\.csv`, so no days can be drawn"):
        make_seasons(_settings(sky=sky), HOUR)
