"""What a station says by month, and of its surroundings, as data."""

from __future__ import annotations

import pytest
from support.building import CABLE, DEVICES, codes_of, station_of

from copperpath.over_year import MonthMean
from copperpath.plugin_api import Mount
from copperpath.station import ClearSky, SiteSettings

HEAD = """station "Bog" {
    place 64.2 N, 27.7 E, 140 m
    starts 2026-12-19 08:00 +02:00
    lasts 72 h
"""


def text(*lines: str) -> str:
    return HEAD + "".join(f"    {line}\n" for line in lines) + "}\n" + DEVICES + CABLE


def site_of(*lines: str) -> SiteSettings:
    return station_of(text(*lines)).site


def sky_of(*lines: str) -> ClearSky:
    sky = site_of("air 5 degC", *lines).sky
    assert isinstance(sky, ClearSky)
    return sky


def test_a_span_of_months_goes_over_the_turn_of_the_year() -> None:
    sky = sky_of("sky clear", "sky 40 % of clear from november to february")
    assert sky == ClearSky(1.0, {}, {1: 0.4, 2: 0.4, 11: 0.4, 12: 0.4})


def test_months_in_a_list_each_have_the_number() -> None:
    assert sky_of("sky 40 % of clear in december, june").by_month == {6: 0.4, 12: 0.4}


def test_a_mean_of_the_level_is_a_power_on_a_level_plane() -> None:
    # 2.4 kWh over 24 h are 100 W.
    sky = sky_of("sky 2.4 kWh/m2/day on level in december")
    mean = sky.by_month[12]
    assert isinstance(mean, MonthMean)
    assert mean.mean_w_m2 == pytest.approx(100.0)
    assert mean.mount == Mount(0.0, 180.0)


def test_a_mean_of_a_plane_keeps_how_that_plane_stands() -> None:
    mean = sky_of("sky 2.4 kWh/m2/day on 60 deg, south_east in december, january").by_month[1]
    assert isinstance(mean, MonthMean)
    assert mean.mount == Mount(60.0, 135.0)


def test_a_sky_of_months_that_hold_all_of_the_run_assumes_nothing() -> None:
    station = station_of(text("air 5 degC", "sky 40 % of clear in december"))
    assert not [each for each in station.assumptions if each.parameter.startswith("sky")]


def test_air_by_month_needs_no_line_for_the_rest_of_the_year() -> None:
    site = site_of("sky clear", "air -8 degC .. -3 degC in december", "air 0 degC in march")
    assert site.air_by_month == {12: (265.15, 270.15), 3: (273.15, 273.15)}
    assert (site.air_low_k, site.air_high_k) == (265.15, 270.15)


def test_air_that_says_nothing_of_a_month_of_the_run_is_a_mistake() -> None:
    lines = ("sky clear", "air 0 degC in december", "lasts 30 days")
    assert codes_of(text(*lines).replace("    lasts 72 h\n", "")) == ["build/months-missing"]


def test_surroundings_are_kept_as_they_are_said() -> None:
    site = site_of(
        "sky clear",
        "air -8 degC .. -3 degC",
        "air_spread 4 K; seed 7; record_low -34 degC",
        "horizon 12 deg at west, 4 deg at 45 deg",
        "rime 30 % in december; ground_reflects 65 % in december",
    )
    assert (site.air_spread_k, site.seed) == (4.0, 7)
    assert site.record_low_k == pytest.approx(239.15)
    assert site.horizon == ((45.0, 4.0), (270.0, 12.0))
    (rime,) = site.covers
    assert (rime.kind, rime.otherwise, rime.by_month) == ("rime", 0.0, {12: 0.3})
    assert (site.ground_reflects, site.ground_by_month) == (0.2, {12: 0.65})


def test_a_spread_without_a_seed_says_which_it_takes() -> None:
    station = station_of(text("sky clear", "air 0 degC", "air_spread 4 K"))
    assert ("seed", "1") in [(each.parameter, each.value) for each in station.assumptions]


def test_a_record_low_above_the_air_is_a_mistake() -> None:
    lines = ("sky clear", "air -8 degC .. -3 degC", "record_low 34 degC")
    assert codes_of(text(*lines)) == ["build/colder-than-record"]


def test_a_case_changes_the_air_of_months() -> None:
    base = text("sky clear", "air -8 degC in december")
    case = 'case "cold" { air -20 degC in december; record_low -40 degC }\n'
    (cold,) = station_of(base + case).cases
    assert cold.station.site.air_by_month[12] == pytest.approx((253.15, 253.15))
    assert cold.station.site.record_low_k == pytest.approx(233.15)
