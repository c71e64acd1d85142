from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone

import pytest
from support.records import make_device, make_record, with_verdict

from copperpath.report.layout import ascii_only, cells_of
from copperpath.report.run_screen import headline, run_screen


def test_the_verdict_is_in_one_line_before_all_figures() -> None:
    lines = run_screen(make_record()).splitlines()
    assert lines[3] == "RUNS DOWN on Mon 30 March 12:20, rig first: charging blocked by cold"


def test_a_station_that_holds_says_no_more_than_that() -> None:
    record = with_verdict(
        make_record(), word="holds", until=None, first_load=None, cause=None, sentence=""
    )
    assert headline(record.verdict) == "HOLDS"


def test_no_line_is_wider_than_80_columns() -> None:
    for line in run_screen(make_record()).splitlines():
        assert cells_of(line) <= 80


def test_a_place_is_never_split_over_two_lines() -> None:
    record = make_record()
    starts = datetime(2026, 12, 1, tzinfo=timezone(timedelta(hours=1)))
    site = replace(record.station.site, starts=starts, lasts_s=31 * 86400.0)
    station = replace(record.station, site=replace(site, latitude_deg=46.6, longitude_deg=10.3))
    case = replace(record.base, station=station)
    lines = run_screen(replace(record, station=station, cases=(case,))).splitlines()
    assert lines[1].endswith(", 31 days,")
    assert lines[2] == "46.6 N, 10.3 E"


def test_long_names_are_cropped_and_the_figures_stay() -> None:
    record = make_record()
    long = make_device("the_radio_in_the_blue_box_on_the_second_shelf", "load", "transceiver")
    cable = replace(record.base.cables[0], start="the_strip_in_the_blue_box.12", end=long.name)
    case = replace(record.base, devices=(long,), cables=(cable,))
    lines = run_screen(replace(record, cases=(case,))).splitlines()
    assert max(cells_of(line) for line in lines) <= 80
    assert any(line.endswith(("0.12     0.9", "0.12     1.0")) for line in lines)


def test_a_requirement_that_is_not_met_says_so_in_capitals_with_its_line() -> None:
    assert "  NOT MET  rig powered throughout (line 31)" in run_screen(make_record())


def test_an_unknown_requirement_does_not_count_as_met() -> None:
    screen = run_screen(make_record())
    assert "Requirements: 1 of 3 met" in screen
    assert "  UNKNOWN  mass <= 6 kg (line 33)" in screen


def test_energy_that_came_out_of_storage_is_shown_as_such() -> None:
    screen = run_screen(make_record())
    assert "came out of storage" in screen
    assert "went into storage" not in screen


def test_every_assumption_is_listed_under_its_device() -> None:
    screen = run_screen(make_record())
    assert "Assumed, as the file does not say (3 values)" in screen
    assert "    cutoff 10.4 V (2.6 V a cell, from memory)" in screen


def test_both_times_are_shown_where_reserve_and_cut_off_are_reached() -> None:
    screen = run_screen(make_record())
    assert "reserve reached   Mon 30 March 10:20" in screen
    assert "first load short  Mon 30 March 12:20" in screen


def test_a_title_cannot_move_the_cursor() -> None:
    record = make_record()
    record = replace(record, station=replace(record.station, title="a\x1b[2Jb\r\nc"))
    assert "\x1b" not in run_screen(record)


@pytest.mark.parametrize(
    ("text", "plain"), [("1.5 mm²", "1.5 mm2"), ("−3 °C", "-3 degC"), ("Märchen", "Marchen")]
)
def test_signs_that_a_terminal_lacks_are_spelled_out(text: str, plain: str) -> None:
    assert ascii_only(text) == plain
