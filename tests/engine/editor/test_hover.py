"""Hover says what a word is where it stands."""

from __future__ import annotations

import pytest
from grammar.example import EXAMPLE
from support.building import SMALL
from support.editor_texts import at_cursor, reading_of

from copperpath.editor.hover import hover


def told(text: str) -> str:
    """What is said at the `|`; "" for nothing."""
    found = hover(*at_cursor(text))
    return found.text if found is not None else ""


def test_a_parameter_is_told_with_unit_bounds_default_and_basis() -> None:
    text = told("block s : strip { ways 4; con|tact 2 mohm }")
    assert "resistance from the feed to each way" in text.lower()
    assert "Allowed:" in text
    assert "If not given: 1 mohm" in text
    assert "from memory" in text


def test_a_value_is_told_by_its_entry() -> None:
    assert told("block s : strip { ways |4 }").startswith("**ways**")
    assert told("load a : transceiver { mode s|sb }").startswith("**mode**")


def test_a_model_is_told_with_its_terminals() -> None:
    text = told("converter c : mppt_|charger { }")
    assert "a converter" in text
    assert "`panel`" in text
    assert "`battery`" in text


def test_a_device_is_told_with_its_settled_values() -> None:
    text = told(SMALL.replace("-> rig", "-> r|ig"))
    assert "`load rig : transceiver`" in text
    assert "- receive 0.32 A" in text
    assert "- standby 5 mA (not given)" in text


def test_a_device_in_a_file_with_mistakes_is_told_as_written() -> None:
    text = told("load r|ig : transceiver { receive 0.32 A; transmit 2.1 }")
    assert "- receive 0.32 A\n- transmit 2.1" in text


def test_a_device_is_told_in_a_half_typed_line() -> None:
    text = told("load rig : transceiver { receive 0.32 A; transmit 2.1 }\nrequire r|ig powered")
    assert "`load rig : transceiver`" in text


def test_the_values_of_a_device_in_an_assembly_are_those_of_the_first_kit() -> None:
    text = (
        SMALL
        + "assembly box(most) {\n    block st|rip : strip { ways 2; rating most }\n"
        + "    expose in -> strip.in\n}\nkit near : box { most 20 A }\n"
        + "kit far : box { most 10 A }\n"
        + "cable pack -> near.in { length 1 m; wire 1.5 mm2 }\n"
        + "cable pack -> far.in { length 1 m; wire 1.5 mm2 }\n"
    )
    assert "- rating 20 A" in told(text)


def test_a_named_value_is_told_in_its_unit() -> None:
    text = told("let run = 2 * 3.5 m\ncable a -> b { length r|un }")
    assert text.startswith("**run**: 7 m, a length")
    assert "`let run = 2 * 3.5 m`" in text


def test_a_parameter_of_an_assembly_is_told_as_what_kits_give() -> None:
    assert "each kit of `radio_box`" in told(EXAMPLE.replace("rating rating", "rating ra|ting"))


def test_a_kit_and_an_assembly_are_told_with_what_is_in_them() -> None:
    for text in (
        EXAMPLE.replace("kit  spare", "kit  sp|are"),
        EXAMPLE.replace("spare    : radio_box", "spare    : radio|_box"),
    ):
        assert "`load     rig[2] : transceiver`" in told(text)
        assert "Exposes `in`." in told(text)


def test_a_part_is_told_with_its_entries() -> None:
    text = told(EXAMPLE.replace(": blanket28", ": blan|ket28"))
    assert "- power 28 W" in text
    assert "A source" in text


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("cable s.i|n -> a { }\nblock s : strip { ways 2 }", "where the strip is fed"),
        ("block s : strip { ways 2 }\nrequire s.vol|tage >= 3 V", "worst instant"),
        ("cable a -> b { fu|se 5 A at a }", "the end it sits at"),
        ('station "a" { la|sts 3 days }', "How long it runs"),
        ("cab|le a -> b { }", "cable pack -> strip.in"),
        ("load a : steady { prio|rity 1 }", "shed last"),
    ],
)
def test_a_word_of_the_language_is_told(text: str, words: str) -> None:
    assert words in told(text)


@pytest.mark.parametrize(
    "text", ["# lo|ad", "|", 'station "lo|ad" { }', "load |{ }", "cable a |-> b { }"]
)
def test_nothing_is_said_where_there_is_nothing(text: str) -> None:
    assert told(text) == ""


def test_hover_marks_the_word() -> None:
    reading = reading_of("load rig : transceiver { receive 1 A }")
    found = hover(reading, reading.source.text.index("receive") + 3)
    assert found is not None
    assert found.span.text == "receive"
