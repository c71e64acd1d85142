"""Completion inside bodies: entries not given yet, words, units, named values."""

from __future__ import annotations

import pytest
from grammar.example import EXAMPLE
from support.editor_texts import at_cursor, proposed

from copperpath.editor.completion import complete


def test_a_body_proposes_the_parameters_of_its_model_and_what_every_device_takes() -> None:
    found = proposed("load rig : transceiver { |")
    assert {"receive", "transmit", "mode", "on", "off", "mass", "priority", "note"} <= set(found)


def test_what_is_given_is_left_out_before_and_behind_the_cursor() -> None:
    text = "load rig : transceiver {\n    receive 0.3 A\n    |\n    mode ssb; mass 1 kg\n}\n"
    assert not {"receive", "mode", "mass"} & set(proposed(text))
    assert "transmit" in proposed(text)


@pytest.mark.parametrize(
    "before",
    ["storage pack : lfp { accept |", "cable a -> b { accept |", 'station "Bog" { accept |'],
)
def test_accept_proposes_the_names_of_the_wiring_rules(before: str) -> None:
    assert {'"line-drop"', '"locked-out"'} <= set(proposed(before))


def test_hours_off_are_left_out_where_hours_on_are_given() -> None:
    found = proposed("load rig : transceiver { on 06:00 to 23:00; |")
    assert not {"on", "off"} & set(found)


def test_an_entry_comes_with_its_help_and_an_example() -> None:
    found = complete(*at_cursor("storage pack : lfp { |")).suggestions
    capacity = next(each for each in found if each.label == "capacity")
    assert capacity.detail.endswith("Ah")
    assert "required" in capacity.help
    assert capacity.insert == "capacity "


def test_a_device_of_a_part_takes_what_the_model_behind_it_takes() -> None:
    text = "part p : photovoltaic { }\npart q : p { }\nsource s : q { |"
    assert "vmp" in proposed(text)


def test_a_kit_takes_the_parameters_of_its_assembly() -> None:
    assert proposed(EXAMPLE + "kit more : radio_box { |") == ["rating", "lead"]
    assert proposed(EXAMPLE + "kit more : radio_box { lead 1 m; |") == ["rating"]


def test_change_takes_what_the_device_takes() -> None:
    text = EXAMPLE + 'case "more" {\n    change rig { |'
    assert "transmitting" in proposed(text)
    assert "wire" in proposed(EXAMPLE + 'case "more" {\n    change cable pack -> strip.in { |')
    assert proposed(EXAMPLE + 'case "more" {\n    change table[1] { |') == ["rating", "lead"]


def test_an_unclosed_body_ends_where_the_next_statement_begins() -> None:
    text = "load rig : transceiver {\n    receive 0.3 A\ncable pack -> |"
    assert proposed(text) == ["rig"]


def test_a_brace_may_stand_on_the_next_line() -> None:
    assert "receive" in proposed("load rig : transceiver\n{\n    |")


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("load a : transceiver { mode |", "ssb"),
        ("load a : transceiver { receive 2 |", "A"),
        ("load a : transceiver { receive 320 m|", "mA"),
        ("load a : transceiver { works 9 V |", ".."),
        ("load a : transceiver { works 9 V .. 15|", "V"),
        ("load a : transceiver { transmitting 20 % |", "from"),
        ("load a : transceiver { on 06:00 |", "to"),
        ("load a : transceiver { on 06:00 to 12:00 |", "on"),
        ("load a : steady { |", "runs"),
        ("load a : steady { runs |", "on surplus"),
        ("source a : photovoltaic { mount |", "aimed"),
        ("source a : photovoltaic { mount aimed |", "every"),
        ("source a : generator { tank 3 |", "L"),
        ("cable a -> b { fuse_kind |", "blade"),
        ("storage a : lfp { capacity 12|", "Ah"),
        ("storage a : lfp { temperature |", "air"),
        ("source a : photovoltaic { mount |", "flat"),
        ("source a : photovoltaic { mount 60 |", "deg"),
        ("source a : photovoltaic { mount 60 deg, |", "south_east"),
        ("source a : photovoltaic { voc_coefficient -0.3|", "%/K"),
        ("load a : usb_device { needs 12 |", "Wh/day"),
        ("load a : steady { mass 3 |", "kg"),
        ("cable a -> b { length 2 |", "m"),
        ("cable a -> b { wire 2 |", "mm2"),
        ("cable a -> b { fuse 5 |", "A"),
        ("cable a -> b { fuse 5 A |", "at"),
        ("cable a -> b { fuse 5 A at |", "b"),
        ("cable a -> b { fuse 5 A at a |", "within"),
        ("cable a -> b { fuse 5 A at a within 3 |", "mm"),
        ("cable a -> b { joint 2 |", "of"),
        ("cable a -> b { joint 2 of |", "genderless"),
        ('station "a" { place 64.2|', "N"),
        ('station "a" { place 64.2 N, 27|', "W"),
        ('station "a" { place 64.2 N, 27 E, 140|', "m"),
        ('station "a" { lasts 3|', "days"),
        ('station "a" { sky |', "clear"),
        ('station "a" { sky 30 % |', "of"),
        ('station "a" { sky 30 % of |', "clear"),
        ('station "a" { sky clear |', "on"),
        ('station "a" { sky 40 % of clear |', "in"),
        ('station "a" { sky 40 % of clear in |', "december"),
        ('station "a" { sky 2 kWh/m2/day on |', "level"),
        ('station "a" { rime 30 % from |', "november"),
        ('station "a" { horizon 12 deg at |', "east"),
        ('station "a" { record_low -3|', "degC"),
        ('station "a" { air 3 degC .. 5|', "degC"),
        ('case "a" { sky |', "clear"),
        ("data a -> b { |", "isolated"),
    ],
)
def test_an_entry_goes_on(line: str, expected: str) -> None:
    assert expected in proposed(line)


@pytest.mark.parametrize(
    ("line", "unit"),
    [
        ("load a : transceiver { receive 2 |", "Ah"),
        ("storage a : lfp { capacity 12|", "A"),
        ("cable a -> b { length 2 |", "V"),
        ("storage a : lfp { cells 4 |", "V"),
    ],
)
def test_units_that_do_not_fit_are_not_proposed(line: str, unit: str) -> None:
    assert unit not in proposed(line)


def test_named_values_are_proposed_where_their_dimension_fits() -> None:
    lets = "let far = 7 m\nlet much = 2 * 5 A\nlet thick = 2.5 mm2\n"
    assert "far" in proposed(lets + "cable a -> b { length |")
    assert "much" not in proposed(lets + "cable a -> b { length |")
    assert "thick" in proposed(lets + "cable a -> b { wire |")
    assert "much" in proposed(lets + "cable a -> b { fuse |")
    assert proposed(lets + "cable a -> b { length far + |") == ["far"]


def test_parameters_of_an_assembly_are_proposed_inside_it_with_values_of_the_file() -> None:
    text = "let far = 7 m\nassembly a(lead) {\n    cable b -> c { length |"
    assert {"far", "lead"} <= set(proposed(text))
    assert "lead" not in proposed(text.replace("|", "1 m }\n}\n") + "cable b -> c { length |")


def test_a_choice_takes_no_named_value() -> None:
    assert "far" not in proposed("let far = 7 m\nload a : transceiver { mode |")


def test_nothing_is_proposed_in_a_remark_or_a_note() -> None:
    assert proposed("load a : steady { power 3 W # and |") == []
    assert proposed('load a : steady { note "po|') == []
