"""What is written in a one-line diagram can be read: nothing overlaps, nothing is tiny."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.big_stations import kit_text, plain_text
from support.building import station_of
from support.hard_stations import hard_station
from support.one_line import overlapping_words, sheet_of, wires_through_words, words_of
from support.wider_networks import wider_station

from copperpath.drawing.one_line.ink import Box, Words
from copperpath.drawing.one_line.sheet import MM_PER_PT
from copperpath.inquiry.rule_catalogue import installed_rules
from copperpath.pipeline import load
from copperpath.station import Station

STATIONS = Path(__file__).parents[3] / "docs" / "stations"
FILES = sorted(STATIONS.rglob("*.station"))


def examples(file: Path) -> dict[str, Station]:
    """The station of a file and those of its cases."""
    station = load(file).station
    assert station is not None
    return {"base": station, **{case.title: case.station for case in station.cases}}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_no_words_overlap_in_the_example_stations_and_their_cases(file: Path) -> None:
    for case, station in examples(file).items():
        sheet = sheet_of(station, case, installed_rules().rules)
        assert overlapping_words(sheet) == [], case
        assert wires_through_words(sheet) == [], case


@pytest.mark.parametrize("text", [plain_text(60), kit_text(60)], ids=["one strip", "kits"])
def test_sixty_devices_are_on_a4_with_letters_of_six_points_and_more(text: str) -> None:
    sheet = sheet_of(station_of(text))
    assert sheet.name == "A4"
    assert {sheet.width_mm, sheet.height_mm} == {210.0, 297.0}
    assert min(words.size for words in words_of(sheet)) >= 6.0 * MM_PER_PT - 1e-9
    assert overlapping_words(sheet) == []
    assert wires_through_words(sheet) == []


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("make", [wider_station, hard_station], ids=lambda make: make.__name__)
def test_no_words_overlap_in_random_stations(make: object, seed: int) -> None:
    assert callable(make)
    sheet = sheet_of(make(seed))
    assert overlapping_words(sheet) == []
    assert wires_through_words(sheet) == []
    assert min(words.size for words in words_of(sheet)) >= 6.0 * MM_PER_PT - 1e-9


def test_everything_is_inside_the_frame() -> None:
    from copperpath.drawing.one_line.letters import box_of
    from copperpath.drawing.one_line.sheet import MARGIN

    for text in (plain_text(6), plain_text(60), plain_text(300)):
        sheet = sheet_of(station_of(text))
        for words in words_of(sheet):
            box = box_of(words)
            assert box.left >= MARGIN
            assert box.right <= sheet.width_mm - MARGIN
            assert box.top >= MARGIN
            assert box.bottom <= sheet.height_mm - MARGIN


def test_a_station_too_large_for_a4_gets_a_larger_sheet_and_no_smaller_letters() -> None:
    sheet = sheet_of(station_of(plain_text(300)))
    assert sheet.height_mm > 297.0
    assert sheet.letters_pt >= 6.0


def test_the_check_for_overlaps_can_fail() -> None:
    assert Box(0, 0, 2, 1).meets(Box(1, 0.5, 3, 2))
    assert not Box(0, 0, 2, 1).meets(Box(2, 0, 3, 1))
    from dataclasses import replace

    sheet = sheet_of(station_of(plain_text(6)))
    first, second = (words for words in words_of(sheet) if words.text in ("pack", "strip"))
    piled = replace(sheet, marks=(first, Words(first.at, second.text, size=first.size)))
    assert overlapping_words(piled) == [("strip", "pack")]
