"""Sun, sky, air and hours over the steps of a run."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import numpy as np
import pytest

from copperpath.plugin_api import AmbientRule, Mount, Schedule, Span24
from copperpath.site import Site, SiteProblem, make_site
from copperpath.station import ClearSky, MeasuredSky, SiteSettings

ZONE = timezone(timedelta(hours=3))
FLAT = Mount(0.0, 180.0)
HOUR = 3600.0


def _settings(**changed: Any) -> SiteSettings:
    plain: dict[str, Any] = {
        "latitude_deg": 64.22,
        "longitude_deg": 27.73,
        "altitude_m": 140.0,
        "starts": datetime(2026, 6, 19, 8, tzinfo=ZONE),
        "lasts_s": 72 * HOUR,
        "sky": ClearSky(1.0, {}),
        "air_low_k": 281.15,
        "air_high_k": 292.15,
        "ground_reflects": 0.2,
        "repeats": False,
    }
    return SiteSettings(**(plain | changed))


def _measured(kind: str, hours: list[float], **columns: list[float]) -> MeasuredSky:
    start = datetime(2026, 6, 19, 8, tzinfo=ZONE).timestamp()
    return MeasuredSky(
        "sun.csv",
        kind,
        start + HOUR * np.array(hours),
        {name: np.array(values) for name, values in columns.items()},
    )


def test_steps_begin_at_the_start_and_the_last_may_reach_beyond_the_end():
    site = make_site(_settings(lasts_s=1000.0), 300.0)
    assert site.n == 4
    assert site.time_s[0] == datetime(2026, 6, 19, 5, tzinfo=UTC).timestamp()
    assert np.allclose(site.middle_s - site.time_s, 150.0)


def test_a_start_without_offset_is_refused():
    with pytest.raises(SiteProblem, match="UTC"):
        make_site(_settings(starts=datetime(2026, 6, 19, 8)), 60.0)


def test_a_clear_day_in_june_gives_a_plausible_energy_on_a_flat_panel():
    """7 to 9 kWh/m² a day near 64° N at the solstice under a clear sky: common practice, no
    source."""
    site = make_site(_settings(lasts_s=24 * HOUR), 300.0)
    assert 7.0 < site.plane_irradiance(FLAT).sum() * 300 / 3.6e6 < 9.0


def test_a_share_of_clear_is_that_share_on_every_panel_and_only_on_its_day():
    clear = make_site(_settings(), 600.0)
    cloudy = make_site(_settings(sky=ClearSky(1.0, {date(2026, 6, 20): 0.3})), 600.0)
    for mount in (FLAT, Mount(60.0, 180.0), Mount(90.0, 0.0)):
        full, part = clear.plane_irradiance(mount), cloudy.plane_irradiance(mount)
        day = _local_day(clear) == 20
        assert np.allclose(part[day], 0.3 * full[day])
        assert np.array_equal(part[~day], full[~day])


def _local_day(site: Site) -> np.ndarray:
    return np.array([datetime.fromtimestamp(t, ZONE).day for t in site.middle_s])


def test_there_is_no_light_at_night_and_never_less_than_none():
    site = make_site(_settings(starts=datetime(2026, 12, 1, 0, tzinfo=ZONE)), 300.0)
    assert site.sun is not None
    for mount in (FLAT, Mount(75.0, 180.0)):
        light = site.plane_irradiance(mount)
        assert np.all(light >= 0.0)
        assert np.all(light[site.sun.apparent_elevation_deg < -1.0] == 0.0)


def test_a_panel_that_faces_the_pole_gets_more_sun_in_the_south():
    south = _settings(latitude_deg=-41.3, longitude_deg=174.8, lasts_s=24 * HOUR)
    site = make_site(south, 600.0)
    north_facing = site.plane_irradiance(Mount(60.0, 0.0)).sum()
    assert north_facing > 2.0 * site.plane_irradiance(Mount(60.0, 180.0)).sum()


def test_snow_on_the_ground_helps_a_steep_panel():
    snow = make_site(_settings(ground_reflects=0.7), 600.0).plane_irradiance(Mount(90.0, 180.0))
    grass = make_site(_settings(ground_reflects=0.2), 600.0).plane_irradiance(Mount(90.0, 180.0))
    assert snow.sum() > 1.1 * grass.sum()


# ---- measured light --------------------------------------------------------------------------


def test_light_measured_on_the_plane_is_taken_as_it_stands_on_straight_lines():
    sky = _measured("plane", [0, 1, 2], plane=[0.0, 400.0, 200.0])
    site = make_site(_settings(sky=sky, lasts_s=2 * HOUR), HOUR)
    assert list(site.plane_irradiance(Mount(60.0, 180.0))) == [200.0, 300.0]


def test_the_last_row_goes_on_as_long_as_the_one_before():
    sky = _measured("plane", [0, 1, 2], plane=[0.0, 400.0, 200.0])
    site = make_site(_settings(sky=sky, lasts_s=3 * HOUR), HOUR)
    assert site.plane_irradiance(FLAT)[2] == 200.0
    with pytest.raises(SiteProblem, match=r"2026-06-19 10:00 \+0300.* the run from"):
        make_site(_settings(sky=sky, lasts_s=4 * HOUR), HOUR)


def test_a_gap_by_day_is_refused_and_one_by_night_is_not():
    by_day = _measured("plane", [0, 1, 5, 6], plane=[0.0, 400.0, 400.0, 0.0])
    with pytest.raises(SiteProblem, match="nothing between"):
        make_site(_settings(sky=by_day, lasts_s=6 * HOUR), HOUR)
    by_night = _measured("plane", [0, 1, 9, 10], plane=[50.0, 0.0, 0.0, 50.0])
    make_site(_settings(sky=by_night, lasts_s=10 * HOUR), HOUR)


def test_a_row_without_a_number_is_named():
    sky = _measured("plane", [0, 1, 2], plane=[0.0, float("nan"), 200.0])
    with pytest.raises(SiteProblem, match=r"no number .* 2026-06-19 09:00"):
        make_site(_settings(sky=sky, lasts_s=2 * HOUR), HOUR)


def test_level_light_stays_what_was_measured_however_it_is_parted():
    """A clear day written down as measured comes back on a flat panel, and within 5 % of energy
    on a tilted one, with beam and diffuse, beam alone, diffuse alone and neither."""
    clear = make_site(_settings(lasts_s=24 * HOUR), 600.0)
    assert clear.light is not None
    tilted = Mount(45.0, 180.0)
    parts = {"beam": clear.light.beam, "diffuse": clear.light.diffuse}
    for names in (("beam", "diffuse"), ("beam",), ("diffuse",), ()):
        columns = {"global": clear.light.level} | {name: parts[name] for name in names}
        sky = MeasuredSky("sun.csv", "horizontal", clear.middle_s, columns)
        site = make_site(_settings(sky=sky, lasts_s=24 * HOUR), 600.0)
        assert np.allclose(site.plane_irradiance(FLAT), clear.plane_irradiance(FLAT))
        wanted = clear.plane_irradiance(tilted).sum()
        assert site.plane_irradiance(tilted).sum() == pytest.approx(wanted, rel=0.05)
        assert "sun.csv" in site.sky_words


# ---- air and hours ---------------------------------------------------------------------------


def test_air_is_coolest_before_dawn_and_warmest_in_the_afternoon():
    site = make_site(_settings(starts=datetime(2026, 6, 19, 0, tzinfo=ZONE)), 60.0)
    day = site.air_k[: 24 * 60]
    assert np.argmin(day) / 60 == pytest.approx(5.0, abs=0.02)
    assert np.argmax(day) / 60 == pytest.approx(15.0, abs=0.02)
    assert day.min() == pytest.approx(281.15, abs=1e-3)
    assert day.max() == pytest.approx(292.15, abs=1e-3)
    assert np.abs(np.diff(site.air_k)).max() < 0.05


def test_a_battery_in_the_ground_is_warmer_than_the_air_by_what_is_said():
    site = make_site(_settings(lasts_s=HOUR), 600.0)
    assert np.allclose(site.temperature(AmbientRule(offset_k=6.0)), site.air_k + 6.0)
    assert np.all(site.temperature(AmbientRule(fixed_k=278.15)) == 278.15)


def test_hours_are_those_of_the_stations_clock_and_may_cross_midnight():
    site = make_site(_settings(lasts_s=48 * HOUR), HOUR)
    night = Schedule((Span24(22 * HOUR, 2 * HOUR, 1.0),), 0.0)
    on = site.schedule(night)
    hours = [datetime.fromtimestamp(t, ZONE).hour for t in site.time_s]
    assert [value == 1.0 for value in on] == [hour >= 22 or hour < 2 for hour in hours]


def test_an_edge_inside_a_step_is_weighted():
    site = make_site(_settings(lasts_s=2 * HOUR), HOUR)
    late = Schedule((Span24(8.75 * HOUR, 12 * HOUR, 0.4),), 0.1)
    assert site.schedule(late) == pytest.approx([0.75 * 0.1 + 0.25 * 0.4, 0.4])


def test_the_first_window_that_holds_decides():
    site = make_site(_settings(lasts_s=2 * HOUR), HOUR)
    both = Schedule((Span24(8 * HOUR, 9 * HOUR, 0.2), Span24(6 * HOUR, 22 * HOUR, 0.7)), 0.0)
    assert site.schedule(both) == pytest.approx([0.2, 0.7])


def test_a_window_with_a_date_holds_on_that_day_alone():
    site = make_site(_settings(), HOUR)
    day = date(2026, 6, 20)
    on = site.schedule(Schedule((Span24(6 * HOUR, 12 * HOUR, 1.0, (day, day)),), 0.0))
    held = [datetime.fromtimestamp(t, ZONE) for t in site.time_s[on == 1.0]]
    assert [(when.day, when.hour) for when in held] == [(20, hour) for hour in range(6, 12)]
    assert on.sum() == 6.0


def test_a_window_over_midnight_belongs_to_the_day_on_which_it_begins():
    site = make_site(_settings(), HOUR)
    days = (date(2026, 6, 19), date(2026, 6, 20))
    on = site.schedule(Schedule((Span24(22 * HOUR, 2 * HOUR, 1.0, days),), 0.0))
    held = [datetime.fromtimestamp(t, ZONE) for t in site.time_s[on == 1.0]]
    assert [(when.day, when.hour) for when in held] == [
        (19, 22), (19, 23), (20, 0), (20, 1), (20, 22), (20, 23), (21, 0), (21, 1),
    ]  # fmt: skip


def test_a_day_has_its_own_share_and_the_others_theirs():
    site = make_site(_settings(), HOUR)
    day = date(2026, 6, 21)
    windows = (Span24(0.0, 24 * HOUR, 0.05, (day, day)), Span24(6 * HOUR, 22 * HOUR, 0.2))
    share = site.schedule(Schedule(windows, 0.02))
    of_day = _local_day(site) == 21
    assert np.all(share[of_day] == 0.05)
    assert set(share[~of_day]) == {0.02, 0.2}


def test_steps_are_cut_at_a_dated_window_on_its_days_alone():
    day = date(2026, 6, 20)
    odd = Schedule((Span24(8.3 * HOUR, 9.7 * HOUR, 1.0, (day, day)),), 0.0)
    site = make_site(_settings(), HOUR, [odd])
    assert site.n == 72 + 2
    short = [datetime.fromtimestamp(t, ZONE) for t in site.time_s[site.dt_s < HOUR - 1.0]]
    assert [(when.day, when.hour, when.minute) for when in short] == [
        (20, 8, 0), (20, 8, 18), (20, 9, 0), (20, 9, 42),
    ]  # fmt: skip
    assert site.dt_s @ site.schedule(odd) == pytest.approx(1.4 * HOUR)
