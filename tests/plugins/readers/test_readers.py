"""Readers of weather files, on texts made for the test and on two real files that pvlib ships."""

from __future__ import annotations

from pathlib import Path

import pvlib
import pytest
from support.weather_texts import Hour, epw_text, tmy3_text

from copperpath.plugin_api import Reader, Weather, WeatherProblem
from copperpath_plugins.readers.epw import Epw
from copperpath_plugins.readers.tmy3 import Tmy3

REAL = Path(pvlib.__file__).parent / "data"
WRITERS = {Epw: epw_text, Tmy3: tmy3_text}


def one(month: int, day: int, hour: int) -> Hour:
    if (month, day, hour) == (6, 19, 11):
        return Hour(800.0, 700.0, 120.0, 19.0)
    return Hour()


def row(weather: Weather, month: int, day: int, hour: int) -> int:
    fits = (weather.month == month) & (weather.day == day) & (weather.hour == hour)
    (found,) = fits.nonzero()[0]
    return int(found)


@pytest.mark.parametrize("reader", [Epw, Tmy3])
def test_the_hour_that_ends_at_a_stamp_begins_an_hour_before(reader: type[Reader]) -> None:
    weather = reader.read(WRITERS[reader](one))
    at = row(weather, 6, 19, 11)  # stamped 12
    assert (weather.level[at], weather.beam[at], weather.diffuse[at]) == (800.0, 700.0, 120.0)
    assert weather.air_k[at] == pytest.approx(292.15)


@pytest.mark.parametrize("reader", [Epw, Tmy3])
def test_the_last_hour_of_a_day_is_of_that_day(reader: type[Reader]) -> None:
    weather = reader.read(WRITERS[reader](lambda m, d, h: Hour(air=float(d if h == 23 else 0))))
    assert weather.air_k[row(weather, 1, 31, 23)] == pytest.approx(273.15 + 31.0)


@pytest.mark.parametrize("reader", [Epw, Tmy3])
def test_place_and_clock_are_those_of_the_first_line(reader: type[Reader]) -> None:
    weather = reader.read(WRITERS[reader]())
    assert (weather.latitude_deg, weather.longitude_deg) == (46.60, 10.30)
    assert (weather.altitude_m, weather.clock_ahead_s) == (2650.0, 3600.0)


def test_each_reader_knows_its_own_files_and_no_other() -> None:
    epw, tmy3 = epw_text()[:4000], tmy3_text()[:4000]
    assert Epw.recognizes("x.epw", "")
    assert Epw.recognizes("x.csv", epw)
    assert not Epw.recognizes("x.csv", tmy3)
    assert Tmy3.recognizes("x.csv", tmy3)
    assert not Tmy3.recognizes("x.csv", epw)
    assert not Tmy3.recognizes("x.csv", "time, plane [W/m2]\n")


def test_a_real_tmy3_file_has_the_light_that_its_lines_add_up_to() -> None:
    # 703165TY.csv, Sand Point, Alaska; the column GHI added up outside, by its place in the line.
    text = (REAL / "703165TY.csv").read_text(encoding="utf-8")
    weather = Tmy3.read(text)
    total = sum(float(line.split(",")[4]) for line in text.splitlines()[2:])
    assert len(weather.level) == 8760
    assert float(weather.level.sum()) == pytest.approx(total)
    assert (weather.latitude_deg, weather.clock_ahead_s) == (55.317, -32400.0)


@pytest.mark.parametrize(
    ("reader", "text"),
    [
        (Epw, "hello"),
        (Epw, "LOCATION,a,b\n1,2\n"),
        (Epw, epw_text().replace("46.60", "north")),
        (Epw, epw_text().replace(",60,?9", ",60", 1)),
        (Tmy3, ""),
        (Tmy3, "a\nDate (MM/DD/YYYY)\n"),
        (Tmy3, tmy3_text().replace("GHI (W/m^2)", "sun")),
        (Tmy3, tmy3_text().replace("01/01/1981", "first of january", 1)),
        (Tmy3, tmy3_text().replace(",01:00,", ",one,", 1)),
    ],
)
def test_what_is_not_such_a_file_is_a_problem_in_words(reader: type[Reader], text: str) -> None:
    with pytest.raises(WeatherProblem) as problem:
        reader.read(text)
    assert len(problem.value.message) < 200
