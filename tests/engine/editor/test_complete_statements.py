"""Completion outside bodies: how lines begin, models behind a colon, ends, requirements."""

from __future__ import annotations

from pathlib import Path

import pytest
from grammar.example import EXAMPLE
from support.editor_texts import proposed, with_first

from copperpath_grammar.statement_words import STATEMENT_WORDS


def test_a_line_begins_with_a_statement_word() -> None:
    assert proposed("|") == list(STATEMENT_WORDS)
    assert proposed("load a : steady { power 3 W }\nca|") == list(STATEMENT_WORDS)


def test_behind_the_colon_stand_models_and_parts_of_the_kind() -> None:
    found = proposed(EXAMPLE + "source more : |")
    assert "blanket28" in found
    assert "photovoltaic" in found
    assert "lfp" not in found


def test_a_part_may_be_of_any_model_but_not_of_itself() -> None:
    found = proposed("part mine : |")
    assert {"lfp", "photovoltaic", "transceiver"} <= set(found)
    assert "mine" not in found


def test_a_kit_is_of_an_assembly() -> None:
    assert proposed(EXAMPLE + "kit more : |") == ["radio_box"]


@pytest.mark.parametrize("line", ["cable |", "cable pack -> |", "cable pack -> r|", "data |"])
def test_a_cable_ends_at_devices_and_kits(line: str) -> None:
    found = proposed(EXAMPLE + line)
    assert {"pack", "strip", "rig", "table"} <= set(found)
    assert "run" not in found


def test_between_the_ends_stands_an_arrow() -> None:
    assert proposed(EXAMPLE + "cable pack |") == ["->"]
    assert proposed(EXAMPLE + "cable strip.1 |") == ["->"]


def test_the_free_ways_of_a_strip_come_first() -> None:
    text = "block s : strip { ways 3 }\ncable s.1 -> a { }\ncable s.|"
    assert proposed(text) == ["in", "2", "3", "1"]


def test_the_ways_of_a_strip_may_be_told_by_its_part() -> None:
    text = "part box : strip { ways 2 }\nblock s : box { }\ncable s.|"
    assert proposed(text) == ["in", "1", "2"]


def test_a_controller_shows_its_terminals() -> None:
    found = proposed("converter c : mppt_charger { }\ncable c.|")
    assert {"panel", "battery"} <= set(found)


def test_a_kit_shows_what_its_assembly_exposes() -> None:
    assert proposed(EXAMPLE + "cable pack -> table[1].|") == ["in"]


def test_inside_an_assembly_only_its_own_devices_are_ends() -> None:
    text = "load far : steady { }\nassembly a(n) {\n    load near : steady { }\n    cable |"
    assert proposed(text) == ["near"]


def test_a_requirement_speaks_of_devices_mass_or_the_verdict() -> None:
    found = proposed(EXAMPLE + "require |")
    assert {"rig", "table", "mass", "holds"} <= set(found)


def test_only_what_stores_has_a_charge() -> None:
    assert "charge" in proposed(EXAMPLE + "require pack.|")
    assert "charge" not in proposed(EXAMPLE + "require rig.|")
    assert "voltage" in proposed(EXAMPLE + "require rig.|")


def test_a_requirement_reaches_into_a_kit() -> None:
    assert proposed(EXAMPLE + "require table[2].|") == ["strip", "rig"]
    assert "voltage" in proposed(EXAMPLE + "require table[2].rig[1].|")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("require rig |", ["powered", ">=", "<=", ">", "<"]),
        ("require rig.voltage |", [">=", "<=", ">", "<"]),
        ("require mass |", [">=", "<=", ">", "<"]),
        ("require rig powered |", ["throughout", "for"]),
        ("require rig powered for 4 |", ["h", "min", "s", "days", "weeks"]),
        ("require rig.voltage >= 10 |", ["V", "mV", "kV"]),
        ("require pack.charge >= 20 |", ["%"]),
        ("require mass <= 6 |", ["kg", "g", "lb", "oz"]),
        ("require pack.charge >= 20 % |", ["in"]),
        ("require rig powered throughout |", ["in"]),
        ("require holds |", ["in"]),
        ("require holds in |", ["every", "case"]),
        ("require holds in every |", ["case"]),
        ("require holds in every case |", []),
        ("require holds in case |", ["overcast", "one blanket lost"]),
        ('require holds in case "|', ["overcast", "one blanket lost"]),
        ('require holds in case "overcast", |', ["overcast", "one blanket lost"]),
        ("let far = 3 * |", ["run"]),
        ("let far = |", ["run"]),
        ("never |", ["together"]),
        ("never together |", ["rig", "table", "spare"]),
        ("never together rig, |", ["table", "spare"]),
        ("bond rig |", ["to"]),
        ("include |", ["library"]),
        ("# cable |", []),
        ('station "cable |', []),
    ],
)
def test_a_line_goes_on(line: str, words: list[str]) -> None:
    assert proposed(EXAMPLE + line) == words


def test_a_bond_may_be_to_the_chassis() -> None:
    assert proposed(EXAMPLE + "bond rig to |")[0] == "chassis"


def test_the_words_inside_a_case_are_its_settings_and_its_changes() -> None:
    found = proposed(EXAMPLE + 'case "more" {\n    |\n}\n')
    assert {"sky", "air", "change", "without", "let", "load", "cable"} <= set(found)
    assert not {"require", "expose", "include", "station"} & set(found)


def test_the_words_inside_an_assembly_are_those_of_the_grammar() -> None:
    found = proposed("assembly a(n) {\n    |\n}\n")
    assert {"expose", "load", "cable", "let", "require"} <= set(found)
    assert not {"part", "case", "station", "change"} & set(found)


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("change |", "rig"),
        ("change cable pack -> |", "strip"),
        ("without |", "cable"),
        ("without blanket, |", "rig"),
    ],
)
def test_a_case_changes_what_the_file_has(line: str, expected: str) -> None:
    assert expected in proposed(EXAMPLE + f'case "more" {{\n    {line}')


def test_a_device_of_a_case_can_be_an_end_in_it_alone() -> None:
    inside = 'case "more" {\n    load extra : steady { }\n    cable |'
    assert {"extra", "pack"} <= set(proposed(EXAMPLE + inside))
    assert "extra" not in proposed(EXAMPLE + inside.replace("|", "") + "\n}\ncable |")


def test_files_beside_the_station_are_proposed_in_quotes(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    for name in ("x.station", "parts/radios.station", "sun.csv"):
        (tmp_path / name).write_text("")
    assert proposed('include "|', tmp_path) == ["parts/radios.station"]
    assert proposed('station "a" {\n    sky "|', tmp_path) == ["sun.csv"]
    assert proposed('include "|') == []


@pytest.mark.parametrize(
    ("text", "label", "result"),
    [
        ("lo|", "load", "load "),
        ("load a : ste|", "steady", "load a : steady"),
        ("load a : steady { power 3|", "W", "load a : steady { power 3 W"),
        ("load a : steady { power 3 |", "W", "load a : steady { power 3 W"),
        ("load a : steady { power 3 m|", "mW", "load a : steady { power 3 mW"),
        ("load a : steady { cur| }", "current", "load a : steady { current  }"),
    ],
)
def test_a_proposal_takes_the_place_of_what_is_typed(text: str, label: str, result: str) -> None:
    assert with_first(text, label) == result


def test_the_title_of_a_case_is_closed_once() -> None:
    base = 'case "dark" { sky 7 % of clear }\n'
    assert with_first(base + 'require holds in case "da|', "dark").endswith(' "dark"')
    assert with_first(base + 'require holds in case "da|"', "dark").endswith(' "dark"')
    assert with_first(base + "require holds in case |", "dark").endswith(' "dark"')
