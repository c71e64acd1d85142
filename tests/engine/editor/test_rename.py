"""A rename changes the name everywhere and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from grammar.example import EXAMPLE
from support.building import SMALL
from support.editor_texts import at_cursor, reading_of
from support.runs import HERON_BOG, LARKFELL

from copperpath.editor.occurrences import occurrences_in
from copperpath.editor.rename import RenameRefused, applied, rename
from copperpath.station import ComparisonRequirement, PoweredRequirement, Station

STATIONS = (HERON_BOG, LARKFELL / "larkfell_spur.station")


def renamed(text: str, name: str) -> str:
    """The text after the thing at the `|` has got a new name."""
    reading, offset = at_cursor(text)
    return applied(reading.source.text, rename(reading, offset, name))


def refusal(text: str, name: str) -> str:
    """Why that is refused."""
    with pytest.raises(RenameRefused) as caught:
        renamed(text, name)
    return str(caught.value)


def shape(station: Station, names: Mapping[str, str]) -> object:
    """All that a station is but for places in the text, its devices called by other names."""

    def called(name: str | None) -> str | None:
        return names.get(name, name) if name is not None else None

    devices = [
        (called(each.name), each.model, repr(sorted(each.values.items())), each.mass_kg, each.rank)
        for each in station.devices
    ]
    cables = [
        (
            *(called(end.device) for end in (each.start, each.end)),
            *(end.terminal for end in (each.start, each.end)),
            *(each.resistance_ohm, each.fuse, each.mass_kg),
        )
        for each in station.cables
    ]
    requirements = []
    for each in station.requirements:
        match each:
            case PoweredRequirement():
                requirements.append((called(each.load), "powered", each.duration_s))
            case ComparisonRequirement():
                requirements.append((called(each.device), each.quantity, each.limit))
    return station.site, devices, cables, requirements


@pytest.mark.parametrize("path", STATIONS, ids=lambda path: path.stem)
def test_after_any_rename_the_file_builds_to_the_same_station(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    reading = reading_of(text, path.parent)
    before = reading.loaded.station
    assert before is not None
    declared = [each for each in occurrences_in(reading) if each.whole is not None]
    assert declared
    for each in declared:
        changed = applied(text, rename(reading, each.span.start, "another"))
        after = reading_of(changed, path.parent).loaded.station
        assert after is not None
        names = {each.symbol.name: "another"} if each.symbol.space == "device" else {}
        assert repr(shape(after, {})) == repr(shape(before, names)), each.symbol.name


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
