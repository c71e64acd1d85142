"""Weather files that `sky` and `air` name: found, read, and refused in words."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from support.building import CABLE, DEVICES, build_text, codes_of, station_of
from support.runs import record_of
from support.weather_texts import Hour, epw_text, hours, tmy3_text

from copperpath.over_year import WeatherFile

SITE = """station "Tooth" {{
    place 46.60 N, 10.30 E, {height} m
    starts 2026-06-19 08:00 +02:00
    lasts 2 h
    sky {sky}
    air {air}
}}
"""


def text(sky: str = '"w.epw"', air: str = '"w.epw"', height: int = 2650) -> str:
    return SITE.format(sky=sky, air=air, height=height) + DEVICES + CABLE


def message(folder: Path, content: str, name: str = "w.epw", air: str = "5 degC") -> str:
    (folder / name).write_text(content, encoding="utf-8")
    (found,) = build_text(text(f'"{name}"', air), folder).diagnostics
    assert found.code == "build/sky-file"
    return found.message


def test_sky_and_air_come_from_one_file(tmp_path: Path) -> None:
    (tmp_path / "w.epw").write_text(epw_text(), encoding="utf-8")
    site = station_of(text(), tmp_path).site
    assert isinstance(site.sky, WeatherFile)
    assert site.air_file is not None
    assert (site.sky.form, site.air_file.path) == ("epw", "w.epw")


def test_a_typical_year_is_known_by_its_headings_though_it_is_a_csv(tmp_path: Path) -> None:
    (tmp_path / "w.csv").write_text(tmy3_text(), encoding="utf-8")
    sky = station_of(text('"w.csv"', "5 degC"), tmp_path).site.sky
    assert isinstance(sky, WeatherFile)
    assert sky.form == "tmy3"


def test_missing_hours_are_counted_and_the_first_is_named(tmp_path: Path) -> None:
    lines = epw_text().splitlines()
    del lines[8 + hours().index((3, 2, 5)) : 8 + hours().index((3, 2, 9))]
    said = message(tmp_path, "\n".join(lines))
    assert "4 hours of the year are missing, the first on 2 march from 05:00" in said


def test_the_number_for_nothing_is_no_light(tmp_path: Path) -> None:
    said = message(
        tmp_path, epw_text(lambda m, d, h: Hour(9999.0 if (m, d, h) == (7, 4, 9) else 0.0))
    )
    assert "1 hour has no believable light on the level, the first on 4 july from 09:00" in said


def test_air_that_no_place_has_is_named(tmp_path: Path) -> None:
    said = message(tmp_path, epw_text(lambda m, d, h: Hour(air=99.9)))
    assert "8760 hours have no believable air temperature, the first on 1 january" in said


def test_a_table_of_light_has_no_air(tmp_path: Path) -> None:
    table = "time, plane [W/m2]\n2026-06-19T06:00Z, 0\n2026-06-19T12:00Z, 42\n"
    (tmp_path / "sun.csv").write_text(table, encoding="utf-8")
    (found,) = build_text(text("clear", '"sun.csv"'), tmp_path).diagnostics
    assert "it is no weather file, so it has no air" in found.message
    assert ".epw" in found.help


def test_air_from_a_file_stands_alone(tmp_path: Path) -> None:
    (tmp_path / "w.epw").write_text(epw_text(), encoding="utf-8")
    both = text("clear", '"w.epw"\n    air 5 degC')
    assert codes_of(both, tmp_path) == ["build/duplicate-entry"]


def test_a_weather_file_outside_the_folder_is_refused(tmp_path: Path) -> None:
    (found,) = build_text(text("clear", '"../w.epw"'), tmp_path).diagnostics
    assert "only a file inside the station file's folder" in found.message


@pytest.mark.parametrize("seed", range(60))
def test_a_file_that_was_damaged_is_a_mistake_or_still_a_year(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    write = epw_text if seed % 2 else tmy3_text
    content = bytearray(write().encode())
    where = 2000 if chance.random() < 0.7 else len(content)
    for _ in range(chance.randrange(1, 30)):
        content[chance.randrange(where)] = chance.choice(b'\0,\n"9-x\xff;:/')
    if chance.random() < 0.3:
        del content[chance.randrange(len(content)) :]
    (tmp_path / "w.epw").write_bytes(bytes(content))
    found = build_text(text(), tmp_path).diagnostics
    assert {each.code for each in found} <= {"build/sky-file"}
    assert all("\n" not in each.message for each in found)


def test_a_file_of_a_far_place_is_warned_of(tmp_path: Path) -> None:
    (tmp_path / "w.epw").write_text(epw_text(), encoding="utf-8")
    warned = {}
    for height in (2600, 200):
        path = tmp_path / f"at_{height}.station"
        path.write_text(text(height=height), encoding="utf-8")
        found = record_of(path, causes_of=frozenset()).findings
        warned[height] = [e.message for e in found if e.rule == "weather-from-elsewhere"]
    assert warned[2600] == []
    assert "0 km away and 2450 m higher" in warned[200][0]
