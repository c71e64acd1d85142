"""Which end, which kit and which cable a line of a case means."""

from __future__ import annotations

import pytest
from support.building import SITE, codes_of, station_of

BASE = (
    SITE
    + """storage pack : lfp { capacity 12 Ah }
block strip : strip { ways 9; rating 30 A }
cable pack -> strip.in { length 0.4 m; wire 4 mm2; fuse 15 A at pack }
"""
)
LEAD = "{ length 1 m; wire 1.5 mm2; fuse 3 A at strip }"
LAMP = BASE + f"load lamp : steady {{ power 3 W }}\ncable strip.1 -> lamp {LEAD}\n"
LAMPS = BASE + f"load lamp[2] : steady {{ power 3 W }}\ncable strip.[1..2] -> lamp[1..2] {LEAD}\n"
BOX = (
    BASE
    + f"""assembly box(many, watts = 1 W) {{
    block s : strip {{ ways many; rating 5 A }}
    load l[many] : steady {{ power watts }}
    cable s.[1..many] -> l[1..many] {{ length 1 m; wire 1 mm2 }}
    expose in -> s.in
}}
kit box : box {{ many 1 }}
cable strip.1 -> box {LEAD}
"""
)


def fuses(text: str, lines: str) -> list[tuple[str, float, str]]:
    """Cable, amperes and end of each fuse behind a strip's way, in a case of these lines."""
    (case,) = station_of(f'{text}case "x" {{\n{lines}\n}}\n').cases
    return [
        (c.name, f.rating_a, f.end)
        for c in case.station.cables
        for f in c.fuses
        if c.name.startswith("strip")
    ]


def of_case(text: str, lines: str) -> list[str]:
    return codes_of(f'{text}case "x" {{\n{lines}\n}}\n')


@pytest.mark.parametrize(
    ("ends", "at", "end"),
    [
        ("strip.1 -> lamp", "start", "start"),
        ("lamp -> strip.1", "start", "end"),
        ("lamp -> strip.1", "end", "start"),
        ("lamp -> strip.1", "lamp", "end"),
        ("lamp -> strip.1", "strip", "start"),
    ],
)
def test_start_and_end_are_those_of_the_line_that_changes_a_cable(
    ends: str, at: str, end: str
) -> None:
    found = fuses(LAMP, f"change cable {ends} {{ fuse 2 A at {at} }}")
    assert found == [("strip.1 -> lamp", 2.0, end)]


def test_a_fuse_of_many_changed_cables_may_sit_at_the_many() -> None:
    found = fuses(LAMPS, "change cable lamp[1..2] -> strip.[1..2] { fuse 2 A at lamp }")
    assert found == [("strip.1 -> lamp[1]", 2.0, "end"), ("strip.2 -> lamp[2]", 2.0, "end")]


def test_a_fuse_of_a_changed_cable_may_sit_at_a_kit() -> None:
    found = fuses(BOX, "change cable strip.1 -> box { fuse 2 A at box }")
    assert found == [("strip.1 -> box.s.in", 2.0, "end")]


def test_a_count_that_a_kit_gets_in_a_case_makes_as_many() -> None:
    (case,) = station_of(BOX + 'case "two" { change box { many 2 } }\n').cases
    names = [device.name for device in case.station.devices]
    assert names == ["pack", "strip", "box.s", "box.l[1]", "box.l[2]"]
    assert [c.name for c in case.station.cables if c.name.startswith("box")] == [
        "box.s.1 -> box.l[1]",
        "box.s.2 -> box.l[2]",
    ]


def test_what_a_changed_count_adds_may_be_changed_in_the_same_case() -> None:
    lines = "change box.l[2] { power 7 W }; change box { many 2 }".replace("; ", "\n")
    (case,) = station_of(f'{BOX}case "two" {{\n{lines}\n}}\n').cases
    assert case.station.device("box.l[2]").values["power"] == 7.0


def test_a_value_that_a_kit_has_not_is_told_once() -> None:
    assert of_case(BOX, "change box { amps 2 A; many 2 }") == ["build/no-such-kit-value"]


def test_a_change_with_nothing_in_it_is_a_mistake() -> None:
    assert of_case(LAMP, "change lamp { }") == ["build/empty-change"]
    assert of_case(LAMP, "change cable strip.1 -> lamp { }") == ["build/empty-change"]


def test_two_changes_of_one_thing_may_not_give_the_same_entry() -> None:
    lines = "change lamp { power 2 W }\nchange lamp { power 4 W }"
    assert of_case(LAMP, lines) == ["build/duplicate-entry"]


def test_one_of_many_may_be_changed_once_more_than_all() -> None:
    lines = "change lamp[1..2] { power 2 W }\nchange lamp[2] { power 4 W }"
    (case,) = station_of(f'{LAMPS}case "x" {{\n{lines}\n}}\n').cases
    powers = [case.station.device(f"lamp[{k}]").values["power"] for k in (1, 2)]
    assert powers == [2.0, 4.0]


def test_a_cable_that_is_there_is_not_added_by_a_range() -> None:
    text = BASE + f"load lamp[2] : steady {{ power 3 W }}\ncable strip.1 -> lamp[1..2] {LEAD}\n"
    lines = "cable strip.1 -> lamp[1..2] { length 2 m; wire 1 mm2 }"
    assert of_case(text, lines) == ["build/already-there"]
    apart = text.replace("lamp[1..2] {", "lamp[1] {") + f"cable strip.1 -> lamp[2] {LEAD}\n"
    assert of_case(apart, lines) == ["build/already-there"]


def test_a_named_value_that_a_case_alone_asks_about_is_used() -> None:
    text = LAMP + 'let least = 10 V\nrequire lamp.voltage >= least in case "x"\n'
    assert of_case(text, "lasts 48 h") == []


@pytest.mark.parametrize(
    "cable",
    [
        "load start : steady { power 3 W }\ncable strip.1 -> start { FACTS; fuse 3 A at start }",
        "load end : steady { power 3 W }\ncable end -> strip.1 { FACTS; fuse 3 A at end }",
        "load end[2] : steady { power 3 W }\ncable end[1..2] -> strip.1 { FACTS; fuse 3 A at end }",
    ],
)
def test_a_device_called_like_the_other_end_of_its_cable_must_be_told_apart(cable: str) -> None:
    text = BASE + cable.replace("FACTS", "length 1 m; wire 1 mm2") + "\n"
    assert codes_of(text) == ["build/fuse-place"]
