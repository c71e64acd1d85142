"""What is in a one-line diagram, and where: sources left, loads right, everything once."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from support.big_stations import kit_text, plain_text
from support.building import station_of
from support.one_line import sheet_of, words_of

from copperpath.drawing.one_line.annotations import UNSOLVED, WITHOUT_STORE, annotate, marked_at
from copperpath.drawing.one_line.finding_marks import shape
from copperpath.drawing.one_line.ink import Area, Disc, Line
from copperpath.drawing.one_line.labels import amps_words
from copperpath.drawing.one_line.order import crossings, make_grid
from copperpath.drawing.one_line.scheme import make_scheme
from copperpath.drawing.one_line.symbols import symbol_of
from copperpath.finding import Finding
from copperpath.inquiry.rule_catalogue import installed_rules
from copperpath.pipeline import load
from copperpath.station import Station
from copperpath.study.corners import low_corner
from copperpath.study.lay_out import lay_out
from copperpath.wiring.lines import supply_terminal
from copperpath_grammar.diagnostics import Level

STATIONS = Path(__file__).parents[3] / "docs" / "stations"
FILES = sorted(STATIONS.rglob("*.station"))
SITE = """station "Small" {
    place 64.2 N, 27.7 E, 140 m
    starts 2026-06-19 08:00 +03:00
    lasts 72 h
    sky clear
    air 8 degC .. 19 degC
}
"""
SMALL = (
    SITE
    + """storage pack : lfp { capacity 12 Ah }
load rig : steady { power 12 W }
cable rig -> pack { length 1.5 m; wire 4 mm2; fuse 10 A at pack }
"""
)


def read(file: Path) -> Station:
    """The station of an example."""
    station = load(file).station
    assert station is not None
    return station


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_device_and_every_cable_is_drawn_once(file: Path) -> None:
    station = read(file)
    scheme = make_scheme(station)
    placed = Counter(name for column in scheme.columns for name in column)
    assert placed == Counter(device.name for device in station.devices)
    linked = Counter(link.cable.name for link in scheme.links)
    assert linked == Counter(cable.name for cable in station.cables)
    groups = {mark.group for mark in sheet_of(station).marks if mark.group}
    things = {f"device {device.name}" for device in station.devices}
    things |= {f"cable {cable.name}" for cable in station.cables}
    assert {group for group in groups if not group.startswith("finding")} == things


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_sources_stand_left_of_everything_and_loads_right_of_what_feeds_them(file: Path) -> None:
    station = read(file)
    scheme = make_scheme(station)
    column = {name: at for at, names in enumerate(scheme.columns) for name in names}
    kinds = {device.name: device.kind for device in station.devices}
    for name, at in column.items():
        if kinds[name] == "source":
            assert at == 0
        if kinds[name] == "load":
            assert at > max(column[other] for other in column if kinds[other] == "source")
    for link in scheme.links:
        assert column[link.left.device] < column[link.right.device]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_label_is_there(file: Path) -> None:
    station = read(file)
    said = Counter(words.text for words in words_of(sheet_of(station)))
    for device in station.devices:
        assert said[device.name] == 1
    for fuse in (fuse for cable in station.cables for fuse in cable.fuses):
        assert said[f"{fuse.rating_a:g} A"] >= 1
    sizes = Counter(
        f"{cable.length_m:g} m, {cable.wire.replace('mm2', 'mm²')}" for cable in station.cables
    )
    assert all(said[text] == count for text, count in sizes.items())


def test_a_fuse_stands_at_the_end_that_it_is_fitted_to() -> None:
    """The cable is written from the radio to the battery, and drawn from left to right."""
    scheme = make_scheme(station_of(SMALL))
    (link,) = scheme.links
    assert (link.left.device, link.right.device) == ("pack", "rig")
    assert link.fuse_at("left") is not None
    assert link.fuse_at("right") is None


def test_volts_at_loads_are_those_of_the_low_corner() -> None:
    station = read(STATIONS / "heron_bog.station")
    notes = annotate(station)
    problem, _ = lay_out(station, 60.0)
    for figure in low_corner(problem):
        device = station.device(figure.device)
        volts = notes.volts[supply_terminal(device)][1]
        assert volts == pytest.approx(figure.voltage_v, abs=0.01)


def test_amps_drop_the_voltage_of_their_cable() -> None:
    """By Ohm's law on the cable's own resistance."""
    station = read(STATIONS / "harbour_hill" / "harbour_hill.station")
    notes = annotate(station)
    cable = next(each for each in station.cables if each.end.device == "hf")
    drop = notes.volts[str(cable.start)][1] - notes.volts[str(cable.end)][1]
    assert notes.amps[cable.name] * cable.resistance_ohm == pytest.approx(drop, rel=1e-6)


def test_where_there_is_no_battery_the_sheet_says_that_sources_give_their_best() -> None:
    text = SMALL.replace(
        "storage pack : lfp { capacity 12 Ah }", "source pack : supply { voltage 13 V; limit 5 A }"
    )
    notes = annotate(station_of(text))
    assert notes.volts["rig.line"][1] == pytest.approx(13.0, abs=0.2)
    assert notes.basis == WITHOUT_STORE


def test_a_station_that_cannot_be_solved_is_drawn_without_figures() -> None:
    """A battery on the panel side of a controller is refused."""
    station = station_of(
        SITE
        + """storage pack : lfp { capacity 12 Ah }
converter regulator : mppt_charger { output_limit 5 A; max_input 30 V }
load rig : steady { power 12 W }
cable pack -> regulator.panel { length 1 m; wire 4 mm2; fuse 10 A at pack }
cable regulator.battery -> rig { length 1 m; wire 4 mm2 }
"""
    )
    notes = annotate(station)
    assert notes.volts == {}
    assert notes.basis == UNSOLVED
    assert {"pack", "rig"} <= {words.text for words in words_of(sheet_of(station))}


def test_findings_are_marked_at_their_device_or_cable_and_listed_with_their_number() -> None:
    station = station_of(SMALL.replace("; fuse 10 A at pack", ""))
    notes = annotate(station)
    (number,) = [
        number
        for number, finding in enumerate(notes.findings, start=1)
        if finding.rule == "battery-lead-without-fuse"
    ]
    assert (Level.DANGER, number) in notes.marks[station.cables[0].name]
    said = [words.text for words in words_of(sheet_of(station))]
    assert said.count(str(number)) == 2
    assert any(text.startswith("danger battery-lead-without-fuse: ") for text in said)


def test_a_finding_on_a_terminal_is_marked_at_its_device() -> None:
    station = station_of(SMALL)
    finding = Finding(Level.NOTE, "some-rule", "words", "pack.line", None, "")
    assert marked_at(finding, station) == "pack"
    assert marked_at(replace(finding, subject="station"), station) == ""


@pytest.mark.parametrize(("fuses", "entries"), [(10, 1), (3, 3)])
def test_many_findings_of_one_rule_share_a_number(fuses: int, entries: int) -> None:
    """The file does not say of any of its fuses what it can break."""
    notes = annotate(station_of(plain_text(fuses + 1)), installed_rules().rules)
    numbers = [
        number
        for number, finding in enumerate(notes.findings, start=1)
        if finding.rule == "fuse-cannot-break"
    ]
    assert len(numbers) == entries
    marks = [number for marks in notes.marks.values() for _, number in marks if number in numbers]
    assert len(marks) == fuses


def test_the_four_levels_have_four_shapes() -> None:
    danger, fail, warn, note = (shape(level, 0.0, 0.0) for level in Level)
    assert isinstance(danger, Area)
    assert (len(danger.points), danger.fill) == (3, "danger")
    assert isinstance(fail, Area)
    assert (len(fail.points), fail.fill) == (4, "fail")
    assert isinstance(warn, Area)
    assert (len(warn.points), warn.fill) == (3, "paper")
    assert isinstance(note, Disc)
    assert note.fill == "paper"


def test_kits_are_drawn_without_a_crossing() -> None:
    grid = make_grid(make_scheme(station_of(kit_text(60))))
    assert crossings([list(column) for column in grid.columns], grid.segments) == 0


def test_wires_run_level_or_upright() -> None:
    sheet = sheet_of(read(STATIONS / "harbour_hill" / "harbour_hill.station"))
    wires = [mark for mark in sheet.marks if isinstance(mark, Line) and "cable" in mark.group]
    assert wires
    for wire in wires:
        for (x, y), (next_x, next_y) in zip(wire.points, wire.points[1:], strict=False):
            assert abs(x - next_x) < 1e-6 or abs(y - next_y) < 1e-6


def test_a_model_that_is_not_listed_gets_the_symbol_of_its_kind() -> None:
    station = station_of(SMALL)
    rig = station.device("rig")
    strange = type("Strange", (rig.model,), {"name": "qqq", "interface": 1})
    known = symbol_of(replace(rig, name="thing"))
    assert symbol_of(replace(rig, name="thing", model=strange)) == known


@pytest.mark.parametrize(
    ("amps", "words"),
    [(0.0, "0 A"), (0.02, "20 mA"), (0.0996, "0.10 A"), (0.42, "0.42 A"), (8.06, "8.1 A")],
)
def test_amps_are_written_with_two_figures(amps: float, words: str) -> None:
    assert amps_words(amps) == words
