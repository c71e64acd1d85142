"""Where names are declared and written."""

from __future__ import annotations

import pytest
from grammar.example import EXAMPLE
from support.editor_texts import at_cursor

from copperpath.editor.contents import contents
from copperpath.editor.definition import definitions, references


def lines_of(text: str, written: str) -> list[int]:
    """The lines of `written` in the text, for the expectations."""
    return [number for number, line in enumerate(text.splitlines(), 1) if written in line]


def declared_at(text: str) -> list[int]:
    return [span.line for span in definitions(*at_cursor(text))]


@pytest.mark.parametrize(
    ("written", "marked", "declared"),
    [
        ("cable strip.1 -> rig ", "cable strip.1 -> r|ig ", "load      rig "),
        ("at pack within", "at pa|ck within", "storage   pack "),
        (": blanket28 ", ": bla|nket28 ", "part blanket28"),
        ("length (run", "length (r|un", "let run = 2"),
        ("spare    : radio_box", "spare    : radi|o_box", "assembly radio_box"),
        ("table[1..2].in", "ta|ble[1..2].in", "kit  table"),
        ("table[1..2].in", "table[1..2].i|n", "expose   in"),
        ("never together rig, table[1].rig", "never together rig, table[1].ri|g", "rig[2]"),
        ("rating 10 A; lead", "rati|ng 10 A; lead", "assembly radio_box"),
        ("length lead;", "length le|ad;", "assembly radio_box"),
        ('in case "overcast"', 'in case "over|cast"', 'case "overcast" {'),
        ("-> spare_lamp", "-> spare|_lamp", "load    spare_lamp"),
        ("change  rig", "change  r|ig", "load      rig "),
        ("without blanket", "without bl|anket", "source    blanket "),
        ("bond rig", "bond r|ig", "load      rig "),
    ],
)
def test_a_name_leads_to_its_declaration(written: str, marked: str, declared: str) -> None:
    assert EXAMPLE.count(written) == 1
    assert lines_of(EXAMPLE, declared)[0] in declared_at(EXAMPLE.replace(written, marked))


@pytest.mark.parametrize(
    ("line", "declared"),
    [
        ("require r|ig powered", "load      rig "),
        ("cable pa|ck -> ", "storage   pack "),
        ("source more : blan|ket28", "part blanket28"),
        ("kit more : radi|o_box", "assembly radio_box"),
    ],
)
def test_a_name_in_a_half_typed_line_leads_to_its_declaration(line: str, declared: str) -> None:
    assert declared_at(EXAMPLE + line) == lines_of(EXAMPLE, declared)[:1]


def test_inside_an_assembly_names_are_its_own() -> None:
    text = EXAMPLE.replace("expose   in -> strip.in", "expose   in -> st|rip.in")
    assert declared_at(text) == lines_of(EXAMPLE, "    block    strip ")


def test_a_value_that_a_case_sets_anew_has_two_declarations() -> None:
    text = EXAMPLE.replace("length run;", "length r|un;")
    assert declared_at(text) == lines_of(EXAMPLE, "let run")


@pytest.mark.parametrize("text", ["loa|d a : steady { }", "load a : ste|ady { }", "# a|", "|"])
def test_words_of_the_language_and_models_have_no_declaration_here(text: str) -> None:
    assert declared_at(text) == []


def test_a_word_of_a_choice_is_no_named_value() -> None:
    text = "let ssb = 3 m\nload a : transceiver { mode s|sb }"
    assert declared_at(text) == []


def test_all_places_of_a_name_are_found_and_no_others() -> None:
    text = EXAMPLE.replace("load      rig ", "load      r|ig ")
    found = [span.text for span in references(*at_cursor(text), declarations=True)]
    assert found == ["rig"] * 8
    assert len(references(*at_cursor(text), declarations=False)) == 7


def test_a_device_and_a_part_of_one_name_are_two_things() -> None:
    text = "part fan : steady { power 3 W }\nload f|an : fan { }\nrequire fan powered throughout\n"
    found = references(*at_cursor(text), declarations=True)
    assert [(span.line, span.column) for span in found] == [(2, 6), (3, 9)]


def test_the_contents_are_the_statements_with_what_is_in_them() -> None:
    reading, _ = at_cursor("|" + EXAMPLE)
    found = contents(reading)
    by_label = {each.label: each for each in found}
    assert by_label["rig"].detail == "load : transceiver"
    assert by_label["Heron bog, one operator"].sort == "station"
    assert [each.label for each in by_label["radio_box"].inner] == [
        "strip",
        "rig",
        "strip.[1..2] -> rig[1..2]",
    ]
    assert "spare_lamp" in [each.label for each in by_label["one blanket lost"].inner]


def test_every_name_in_the_contents_stands_inside_its_statement() -> None:
    reading, _ = at_cursor("|" + EXAMPLE)
    for each in contents(reading):
        assert each.whole.start <= each.name.start <= each.name.end <= each.whole.end
