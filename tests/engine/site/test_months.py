"""Numbers by month, and shares worked out from a table's means."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest

from copperpath.over_year import MonthMean
from copperpath.plugin_api import Mount
from copperpath.site.month_shares import monthly_shares
from copperpath.site.months import over_months
from copperpath.site.place import Place, SiteProblem
from copperpath.site.site import make_site
from copperpath.station import ClearSky, SiteSettings

HERE = Place(46.6, 10.3, 2650.0, 0.0)
LEVEL, STEEP = Mount(0.0, 180.0), Mount(60.0, 180.0)
KWH_A_DAY = 1000.0 / 24.0


def at(*days: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array([datetime.fromisoformat(day).replace(tzinfo=UTC).timestamp() for day in days])


def of(by_month: dict[int, float], *days: str) -> list[float]:
    return [float(each) for each in over_months(by_month, 1.0, at(*days), HERE)]


def settings(sky: ClearSky, starts: str, days: float) -> SiteSettings:
    begins = datetime.fromisoformat(starts).replace(tzinfo=UTC)
    return SiteSettings(46.6, 10.3, 2650.0, begins, days * 86400.0, sky, 270.0, 280.0, 0.2, False)


def test_the_middle_of_a_month_has_its_number() -> None:
    # November has 30 days, so its middle is the begin of the 16th.
    assert of({11: 0.2, 12: 0.4}, "2026-11-16") == [pytest.approx(0.2)]


def test_half_way_between_two_middles_is_their_mean() -> None:
    assert of({11: 0.2, 12: 0.4}, "2026-12-01") == [pytest.approx(0.3)]
    assert of({12: 0.4, 1: 0.2}, "2027-01-01") == [pytest.approx(0.3)]


def test_towards_a_month_without_a_number_a_month_keeps_its_own() -> None:
    days = ("2026-11-30", "2026-12-01", "2026-12-31T23:59", "2027-01-01")
    assert of({12: 0.4}, *days) == [1.0, 0.4, 0.4, 1.0]


def test_months_are_those_of_the_stations_clock() -> None:
    ahead = Place(46.6, 10.3, 2650.0, 3.0 * 3600.0)
    assert over_months({12: 0.4}, 1.0, at("2026-11-30T22:00"), ahead)[0] == 0.4


@pytest.mark.parametrize("mount", [LEVEL, STEEP])
def test_the_mean_of_a_table_results_over_each_month(mount: Mount) -> None:
    means = {12: 1.1, 1: 1.4, 2: 2.2}
    sky = ClearSky(1.0, {}, {m: MonthMean(v * KWH_A_DAY, mount) for m, v in means.items()})
    for starts, days, month in (("2026-12-01", 31, 12), ("2026-01-01", 31, 1)):
        site = make_site(settings(sky, starts, days), 600.0)
        mean = float(site.plane_irradiance(mount).mean()) / KWH_A_DAY
        assert mean == pytest.approx(means[month], rel=2e-3)


def test_a_mean_and_shares_beside_it_hang_together() -> None:
    sky = ClearSky(1.0, {}, {11: 0.9, 12: MonthMean(1.1 * KWH_A_DAY, LEVEL), 1: 0.9})
    site = make_site(settings(sky, "2026-12-01", 31), 600.0)
    assert float(site.plane_irradiance(LEVEL).mean()) / KWH_A_DAY == pytest.approx(1.1, rel=2e-3)


def test_more_than_the_clear_sky_gives_is_a_problem() -> None:
    sky = ClearSky(1.0, {}, {12: MonthMean(6.0 * KWH_A_DAY, LEVEL)})
    with pytest.raises(SiteProblem, match="6 kWh/m2/day in month 12, and on that plane the clear"):
        monthly_shares(sky, 2026, HERE, settings(sky, "2026-12-01", 1))


def test_a_month_of_polar_night_needs_no_light() -> None:
    north = Place(78.2, 15.6, 0.0, 0.0)
    sky = ClearSky(1.0, {}, {12: MonthMean(0.0, LEVEL)})
    assert monthly_shares(sky, 2026, north, settings(sky, "2026-12-01", 1)) == {12: 1.0}


def test_the_air_of_a_month_is_that_of_its_middle() -> None:
    sky = ClearSky(1.0, {})
    usual = settings(sky, "2026-11-16", 1)
    plain = make_site(usual, 600.0).air_k
    monthly = SiteSettings(
        *(46.6, 10.3, 2650.0, usual.starts, usual.lasts_s, sky, 300.0, 300.0, 0.2, False),
        air_by_month={11: (270.0, 280.0)},
    )
    assert make_site(monthly, 600.0).air_k == pytest.approx(plain)


def test_the_words_of_the_sky_say_how_months_were_joined() -> None:
    sky = ClearSky(1.0, {}, {12: MonthMean(1.1 * KWH_A_DAY, LEVEL)})
    words = make_site(settings(sky, "2026-12-10", 1), 600.0).sky_words
    assert "straight lines between the middles of months" in words
    assert "given means result" in words


@pytest.mark.parametrize(("starts", "low"), [("2026-12-10", True), ("2026-06-10", False)])
def test_a_run_under_a_low_sun_says_that_its_clear_sky_is_uncertain(starts: str, low: bool) -> None:
    north = settings(ClearSky(1.0, {}), starts, 1)
    north = replace(north, latitude_deg=64.82, longitude_deg=-147.85, altitude_m=133.0)
    assert ("uncertain by 20 % and more" in make_site(north, 600.0).sky_words) == low
