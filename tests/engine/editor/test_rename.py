"""A rename changes the name everywhere and nothing else."""

from __future__ import annotations

from dataclasses import fields

import pytest
from grammar.example import EXAMPLE
from support.building import SITE, SMALL
from support.editor_texts import at_cursor, reading_of
from support.runs import HERON_BOG, LARKFELL

from copperpath.editor.occurrences import occurrences_in
from copperpath.editor.rename import RenameRefused, applied, rename
from copperpath.required import ComparisonRequirement, PoweredRequirement
from copperpath.station import Station

KITS = (
    SITE
    + """let lead = 2 * 1 m
let two = 2
part radio : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 %; works 9 V .. 15 V }
assembly box(rating, run = 1 m) {
    let half = run / 2
    block strip : strip { ways 4; rating rating }
    load rig[two] : radio { mode ssb; mass 1 kg }
    cable strip.[1..2] -> rig[1..2] { length half; wire 1.5 mm2; fuse 3 A at strip }
    expose feed -> strip.in
    require rig[1..2] powered throughout
}
storage pack : lfp { capacity 12 Ah }
block main : strip { ways 4 }
kit table[2] : box { rating 20 A }
kit spare : box { rating 10 A; run lead + 1 m }
cable pack -> main.in { length lead; wire 4 mm2; fuse 15 A at pack within 100 mm }
cable main.[1..2] -> table[1..2].feed { length lead; wire 4 mm2; fuse 10 A at main }
cable main.3 -> spare.feed { length 1 m; wire 4 mm2; fuse 10 A at main }
require table[1].rig[1].voltage >= 9 V
"""
)
NAMING = ("name", "start", "end", "span")
"""Fields of a cable that speak of names or of places in the text."""

LARKFELL_SPUR = LARKFELL / "larkfell_spur.station"
STATIONS = {
    "heron_bog": (HERON_BOG.read_text(encoding="utf-8"), HERON_BOG.parent),
    "larkfell_spur": (LARKFELL_SPUR.read_text(encoding="utf-8"), LARKFELL),
    "kits": (KITS, LARKFELL),
}


def renamed(text: str, name: str) -> str:
    """The text after the thing at the `|` has got a new name."""
    reading, offset = at_cursor(text)
    return applied(reading.source.text, rename(reading, offset, name))


def refusal(text: str, name: str) -> str:
    """Why that is refused."""
    with pytest.raises(RenameRefused) as caught:
        renamed(text, name)
    return str(caught.value)


def shape(station: Station) -> object:
    """All that a station is but for places in the text; devices by their number, not their name."""
    number = {device.name: index for index, device in enumerate(station.devices)}
    devices = [
        (each.model, sorted(each.values.items()), each.given, each.mass_kg, each.rank)
        for each in station.devices
    ]
    cables = [
        (
            *(number[end.device] for end in (each.start, each.end)),
            *(end.terminal for end in (each.start, each.end)),
            *(getattr(each, field.name) for field in fields(each) if field.name not in NAMING),
        )
        for each in station.cables
    ]
    requirements: list[object] = []
    for each in station.requirements:
        match each:
            case PoweredRequirement():
                requirements.append((number[each.load], each.duration_s))
            case ComparisonRequirement():
                device = None if each.device is None else number[each.device]
                requirements.append((device, each.quantity, each.operator, each.limit))
    return station.site, devices, cables, requirements


@pytest.mark.parametrize("name", STATIONS)
def test_after_any_rename_the_file_builds_to_the_same_station(name: str) -> None:
    text, folder = STATIONS[name]
    reading = reading_of(text, folder)
    before = reading.loaded.station
    assert before is not None
    declared = [each for each in occurrences_in(reading) if each.whole is not None]
    assert len(declared) > 5
    for each in declared:
        changed = applied(text, rename(reading, each.span.start, "another"))
        after = reading_of(changed, folder).loaded.station
        assert after is not None
        assert repr(shape(after)) == repr(shape(before)), each.symbol
        assert changed != text


def test_remarks_notes_and_other_words_are_left_alone() -> None:
    text = SMALL.replace("load rig", "load r|ig") + "# the rig\nlet unrigged = 3 m # rig\n"
    changed = renamed(text, "radio")
    assert "# the rig\nlet unrigged = 3 m # rig" in changed
    assert "-> radio" in changed
    assert "load radio" in changed


def test_an_indexed_name_keeps_its_index() -> None:
    changed = renamed(EXAMPLE.replace("kit  table[3]", "kit  tab|le[3]"), "desk")
    assert "kit  desk[3]" in changed
    assert "desk[1..2].in" in changed
    assert "desk[1].rig[1..2]" in changed
    assert "table" not in changed.replace("tables", "")


def test_a_parameter_is_renamed_in_its_assembly_and_in_all_kits() -> None:
    changed = renamed(EXAMPLE.replace("radio_box(rating,", "radio_box(rat|ing,"), "most")
    assert "radio_box(most, lead = 2 m)" in changed
    assert "rating most }" in changed
    assert "{ most 20 A }" in changed
    assert "block     strip     : strip        { ways 4; rating 30 A }" in changed


def test_a_case_gets_another_title() -> None:
    changed = renamed(EXAMPLE.replace('case "overcast" {', 'case "over|cast" {'), "grey days")
    assert changed.count('"grey days"') == 2
    assert "overcast" not in changed


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("pack", "there is a device `pack` already"),
        ("PACK", "there is a device `pack` already"),
        ("2nd", "is no name"),
        ("my rig", "is no name"),
        ("", "is no name"),
        ("rig-2", "is no name"),
        ("at", "joins values"),
    ],
)
def test_a_name_that_will_not_do_is_refused(name: str, reason: str) -> None:
    assert reason in refusal(SMALL.replace("load rig", "load r|ig"), name)


def test_a_part_cannot_take_the_name_of_a_model() -> None:
    text = "part pa|nel : photovoltaic { power 3 W }\n"
    assert "is a model already" in refusal(text, "lfp")


def test_a_value_cannot_take_the_name_of_a_word_that_stands_in_its_place() -> None:
    text = (
        "let ti|lt = 180 deg\n"
        "part p : photovoltaic { power 28 W; vmp 17.6 V; voc 21.4 V; isc 1.75 A }\n"
        "source a : p { mount 30 deg, tilt }\n"
        "source b : p { mount 30 deg, south }\n"
    )
    assert "would mean something else" in refusal(text, "south")


def test_a_value_of_an_assembly_cannot_hide_one_of_the_file() -> None:
    text = EXAMPLE.replace("lead = 2 m", "le|ad = 2 m")
    assert "there is a named value `run` already" in refusal(text, "run")


def test_nothing_is_renamed_while_a_line_cannot_be_read() -> None:
    text = SMALL.replace("load rig", "load r|ig") + "cable pack -> \n"
    assert "cannot be read" in refusal(text, "radio")


@pytest.mark.parametrize("text", ["lo|ad a : steady { }", "load a : ste|ady { }", "# a|b", "|"])
def test_words_that_the_file_does_not_give_are_not_renamed(text: str) -> None:
    assert "no name that this file gives" in refusal(text, "other")


def test_the_same_name_again_changes_nothing() -> None:
    reading, offset = at_cursor(SMALL.replace("load rig", "load r|ig"))
    assert rename(reading, offset, "rig") == []
