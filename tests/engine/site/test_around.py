"""Horizon, rime and snow, ground by month, and days warmer or colder than usual."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import numpy as np
import pytest

from copperpath.over_year import Cover
from copperpath.plugin_api import Mount
from copperpath.site.day_to_day import KEPT, days_of
from copperpath.site.horizon import height_towards
from copperpath.site.site import Site, make_site
from copperpath.station import ClearSky, MeasuredSky, SiteSettings

STARTS = datetime(2026, 6, 19, tzinfo=UTC)
PLAIN = SiteSettings(
    *(46.6, 10.3, 2650.0, STARTS, 86400.0, ClearSky(1.0, {}), 270.0, 280.0, 0.2, False)
)
FLAT, UPRIGHT = Mount(0.0, 180.0), Mount(90.0, 180.0)
OPEN = make_site(PLAIN, 600.0)


def site(**changed: Any) -> Site:
    """The plain site with some of its fields changed, each of a type of its own."""
    return make_site(replace(PLAIN, **changed), 600.0)


def test_heights_lie_on_straight_lines_around_the_compass() -> None:
    horizon = ((90.0, 10.0), (270.0, 20.0))
    found = height_towards(horizon, np.array([90.0, 180.0, 270.0, 0.0, 315.0]))
    assert found == pytest.approx([10.0, 15.0, 20.0, 15.0, 17.5])


def test_one_height_stands_all_around() -> None:
    assert height_towards(((0.0, 7.0),), np.array([0.0, 123.0, 359.0])) == pytest.approx([7.0] * 3)


def test_no_beam_comes_from_behind_a_hill_and_all_of_it_from_above() -> None:
    hilly = site(horizon=((0.0, 20.0),))
    assert OPEN.sun is not None
    assert OPEN.light is not None
    assert hilly.light is not None
    low = OPEN.sun.apparent_elevation_deg < 20.0
    assert not hilly.light.beam[low].any()
    assert np.array_equal(hilly.light.beam[~low], OPEN.light.beam[~low])


def test_behind_a_hill_what_is_left_is_the_sky_away_from_the_sun() -> None:
    # Hay and Davies: the share beam / light outside the air of the sky's light is around the sun.
    hilly = site(horizon=((0.0, 20.0),))
    assert OPEN.sun is not None
    assert OPEN.light is not None
    step = int(np.flatnonzero(OPEN.sun.apparent_elevation_deg > 10.0)[0])
    around = OPEN.light.beam[step] / OPEN.sun.beyond_air[step]
    left = OPEN.light.diffuse[step] * (1.0 - around)
    assert float(hilly.plane_irradiance(FLAT)[step]) == pytest.approx(left)


def test_a_hill_in_the_west_leaves_the_morning_alone() -> None:
    hilly = site(horizon=((0.0, 0.0), (180.0, 0.0), (270.0, 60.0)))
    assert OPEN.sun is not None
    morning = OPEN.sun.azimuth_deg < 180.0
    for mount in (FLAT, UPRIGHT):
        here, there = hilly.plane_irradiance(mount), OPEN.plane_irradiance(mount)
        assert np.array_equal(here[morning], there[morning])
        assert here[~morning].sum() < there[~morning].sum()


def test_measured_light_knows_its_horizon() -> None:
    rows = OPEN.middle_s
    columns = {"global": np.full(len(rows), 300.0)}
    sky = MeasuredSky("sun.csv", "horizontal", rows, columns)
    inner = {"starts": datetime(2026, 6, 19, 1, tzinfo=UTC), "lasts_s": 3600.0 * 20.0}
    hilly, plain = (site(sky=sky, horizon=h, **inner) for h in (((0.0, 20.0),), ()))
    assert np.array_equal(hilly.plane_irradiance(UPRIGHT), plain.plane_irradiance(UPRIGHT))
    assert "does not count" in hilly.sky_words


def test_rime_and_snow_take_their_shares_one_after_the_other() -> None:
    covered = site(covers=(Cover("rime", 0.0, {6: 0.3}), Cover("snow", 0.5, {})))
    assert covered.plane_irradiance(UPRIGHT) == pytest.approx(OPEN.plane_irradiance(UPRIGHT) * 0.35)
    assert "less what rime and snow on the panels takes" in covered.sky_words


def test_rime_takes_light_that_was_measured_on_the_plane_too() -> None:
    sky = MeasuredSky("sun.csv", "plane", OPEN.time_s, {"plane": np.full(OPEN.n, 500.0)})
    covered = site(sky=sky, covers=(Cover("rime", 0.3, {}),))
    assert covered.plane_irradiance(UPRIGHT) == pytest.approx(np.full(OPEN.n, 350.0))


def test_snow_on_the_ground_is_of_its_month() -> None:
    white = site(ground_by_month={6: 0.65})
    always = site(ground_reflects=0.65)
    other = site(ground_by_month={1: 0.65})
    assert white.plane_irradiance(UPRIGHT) == pytest.approx(always.plane_irradiance(UPRIGHT))
    assert other.plane_irradiance(UPRIGHT) == pytest.approx(OPEN.plane_irradiance(UPRIGHT))


def test_days_have_the_spread_and_keep_the_share_that_they_should() -> None:
    days = days_of(20_000, 1)
    # The error of both is some 0.01 for so many days.
    assert float(days.std()) == pytest.approx(1.0, abs=0.04)
    assert float(np.corrcoef(days[1:], days[:-1])[0, 1]) == pytest.approx(KEPT, abs=0.03)
    assert float(days.mean()) == pytest.approx(0.0, abs=0.06)


def test_a_seed_gives_its_days_again_and_another_gives_others() -> None:
    week = 7 * 86400.0
    one, again, other = (site(lasts_s=week, air_spread_k=4.0, seed=s).air_k for s in (1, 1, 2))
    assert np.array_equal(one, again)
    assert not np.allclose(one, other)


def test_a_longer_run_begins_with_the_days_of_the_shorter() -> None:
    short, long = (site(lasts_s=d * 86400.0, air_spread_k=4.0).air_k for d in (3, 9))
    assert long[: 2 * 144] == pytest.approx(short[: 2 * 144])
