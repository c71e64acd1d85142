"""What good files mean: the nodes that come out of them."""

from __future__ import annotations

import pytest
from grammar.example import EXAMPLE

from copperpath_grammar import parse
from copperpath_grammar.nodes import (
    CableNode,
    ComparisonClaim,
    DeviceNode,
    LetNode,
    PoweredClaim,
    RequireNode,
    Statement,
    StationNode,
    VerdictClaim,
)
from copperpath_grammar.value_nodes import (
    Arithmetic,
    Clock,
    Coordinate,
    Date,
    Entry,
    Expression,
    Measure,
    Moment,
    Negative,
    Number,
    Range,
    Reference,
    Text,
)


def statements(text: str) -> tuple[Statement, ...]:
    """The statements of a file that must be good."""
    result = parse(text)
    assert result.diagnostics == ()
    assert result.file is not None
    return result.file.statements


def entries(lines: str) -> tuple[Entry, ...]:
    """The entries of a load's body."""
    (device,) = statements(f"load rig : transceiver {{\n{lines}\n}}")
    assert isinstance(device, DeviceNode)
    return device.body.entries


def value(text: str) -> Expression:
    """The one value of an entry."""
    (entry,) = entries(f"entry {text}")
    (part,) = entry.parts
    return part.value


def place(text: str) -> list[Expression]:
    """The values of `place`."""
    (station,) = statements(f'station "x" {{ place {text} }}')
    assert isinstance(station, StationNode)
    return [part.value for part in station.body.entries[0].parts]


def test_the_example_has_all_its_statements() -> None:
    found = statements(EXAMPLE)
    assert [type(node).__name__ for node in found] == (
        ["StationNode", "PartNode", "LetNode"]
        + 5 * ["DeviceNode"]
        + 3 * ["CableNode"]
        + 2 * ["IncludeNode"]
        + ["AssemblyNode", "KitNode", "KitNode", "DeviceNode", "CableNode"]
        + ["NeverNode", "BondNode", "DataNode"]
        + 4 * ["RequireNode"]
        + 2 * ["CaseNode"]
    )


def test_a_number_and_its_unit_are_one_value() -> None:
    for text, number, unit in [
        ("12 Wh/day", 12.0, "Wh/day"),
        ("-0.30 %/K", -0.30, "%/K"),
        ("−5 degC", -5.0, "degC"),
        ("14 AWG", 14.0, "AWG"),
        ("AWG 14", 14.0, "AWG"),
        ("2/0 AWG", -1.0, "AWG"),
        ("1.5mm²", 1.5, "mm²"),
        ("1e3 µΩ", 1000.0, "µΩ"),
        ("2.5E-3 °C", 0.0025, "°C"),
        ("5\N{NO-BREAK SPACE}m", 5.0, "m"),
        ("5 N", 5.0, "N"),
        ("3 atm", 3.0, "atm"),
    ]:
        node = value(text)
        assert isinstance(node, Measure)
        assert (node.value, node.unit) == (number, unit)
        assert node.span.text == text


def test_joining_words_are_never_units() -> None:
    (entry,) = entries("joint 2 of genderless")
    first, second = entry.parts
    assert isinstance(first.value, Number)
    assert isinstance(second.value, Reference)
    assert (first.joiner, second.joiner) == ("", "of")


def test_compass_letters_are_coordinates_in_place_only() -> None:
    latitude, longitude, height = place("16.5 S, 64.2 W, 30 m")
    assert isinstance(latitude, Coordinate)
    assert isinstance(longitude, Coordinate)
    assert isinstance(height, Measure)
    assert (latitude.degrees, latitude.letter) == (16.5, "S")
    assert (longitude.degrees, longitude.letter) == (64.2, "W")
    power = value("5 W")
    assert isinstance(power, Measure)
    assert power.unit == "W"


def test_words_of_the_language_are_names_elsewhere() -> None:
    (device, cable, claim) = statements(
        "block load : strip { load source; on 3 V; require powered; for let }\n"
        "cable part.to -> station.1 { }\n"
        "require load.voltage >= 3 V"
    )
    assert isinstance(device, DeviceNode)
    assert device.name.text == "load"
    assert [entry.name.text for entry in device.body.entries] == ["load", "on", "require", "for"]
    assert isinstance(cable, CableNode)
    assert (cable.start.text, cable.end.text) == ("part.to", "station.1")
    assert isinstance(claim, RequireNode)


def test_schedules_keep_their_joining_words() -> None:
    first, second = entries(
        "transmitting 20 % from 06:00 to 22:00, otherwise 2 %\non 6:00 to 12:00, 14:00 to 24:00"
    )
    assert [part.joiner for part in first.parts] == ["", "from", "to", "otherwise"]
    assert [part.joiner for part in second.parts] == ["", "to", ",", "to"]
    last = second.parts[-1].value
    assert isinstance(last, Clock)
    assert (last.hour, last.minute) == (24, 0)


def test_moments_have_an_offset_only_if_it_was_written() -> None:
    for text, minutes in [
        ("2026-06-19 08:00 +03:00", 180),
        ("2026-06-19 08:00 -03:30", -210),
        ("2026-06-19 08:00", None),
    ]:
        moment = value(text)
        assert isinstance(moment, Moment)
        assert (moment.date.day, moment.clock.hour, moment.offset_minutes) == (19, 8, minutes)
        assert (moment.date.span.text, moment.clock.span.text) == ("2026-06-19", "08:00")
    date = value("2026-06-19")
    assert isinstance(date, Date)


def test_times_bind_more_tightly_than_plus_and_ranges_least() -> None:
    node = value("1 + 2 * 3 .. 4 - 5 - 6")
    assert isinstance(node, Range)
    assert isinstance(node.low, Arithmetic)
    assert (node.low.operator, node.low.span.text) == ("+", "1 + 2 * 3")
    assert isinstance(node.high, Arithmetic)
    assert isinstance(node.high.left, Arithmetic)
    assert node.high.left.span.text == "4 - 5"


def test_parentheses_come_first() -> None:
    node = value("(1 + 2) * -(x)")
    assert isinstance(node, Arithmetic)
    assert node.operator == "*"
    assert isinstance(node.left, Arithmetic)
    assert isinstance(node.right, Negative)


def test_a_slash_without_blanks_belongs_to_the_unit() -> None:
    assert isinstance(value("12 Wh/day"), Measure)
    node = value("12 Wh / day")
    assert isinstance(node, Arithmetic)
    assert node.operator == "/"


def test_ranges_need_no_blanks() -> None:
    node = value("1..6")
    assert isinstance(node, Range)
    assert isinstance(node.low, Number)


def test_texts_hold_anything_and_quotes_doubled() -> None:
    node = value('"a # is { no } comment; ""here"" 灯"')
    assert isinstance(node, Text)
    assert node.value == 'a # is { no } comment; "here" 灯'
    empty = value('""')
    assert isinstance(empty, Text)
    assert empty.value == ""


def test_entries_end_at_line_breaks_and_semicolons() -> None:
    assert [entry.name.text for entry in entries(";a 1;; b 2\n\n c ;\n # d\n e")] == list("abce")


def test_braces_may_stand_on_the_next_line() -> None:
    (device,) = statements("load rig : transceiver  # the big one\n\n{ mode ssb }")
    assert isinstance(device, DeviceNode)
    assert device.body.span.text == "{ mode ssb }"


def test_requirements_keep_their_words() -> None:
    claims = [
        node
        for node in statements(
            "require rig  powered\tthroughout\nrequire rig powered for 48 h\n"
            "require holds\nrequire mass   <= 6 kg  # light\n"
        )
        if isinstance(node, RequireNode)
    ]
    assert [node.text for node in claims] == [
        "rig powered throughout",
        "rig powered for 48 h",
        "holds",
        "mass <= 6 kg",
    ]
    first, second, third, fourth = (node.claim for node in claims)
    assert isinstance(first, PoweredClaim)
    assert first.duration is None
    assert isinstance(second, PoweredClaim)
    assert isinstance(second.duration, Measure)
    assert isinstance(third, VerdictClaim)
    assert isinstance(fourth, ComparisonClaim)
    assert fourth.operator == "<="


def test_let_takes_a_calculation() -> None:
    (node,) = statements("let run = 2 * 3.5 m")
    assert isinstance(node, LetNode)
    assert isinstance(node.value, Arithmetic)


@pytest.mark.parametrize("line_break", ["\n", "\r\n", "\r"])
def test_any_line_break_will_do(line_break: str) -> None:
    found = statements(EXAMPLE.replace("\n", line_break))
    assert len(found) == len(statements(EXAMPLE))


def test_a_byte_order_mark_is_not_part_of_the_text() -> None:
    result = parse("\ufeffload lamp : steady { }")
    assert result.diagnostics == ()
    assert result.file is not None
    assert result.file.statements[0].span.column == 1


def test_spans_point_at_the_words() -> None:
    cable = next(node for node in statements(EXAMPLE) if isinstance(node, CableNode))
    assert cable.span.line == EXAMPLE[: EXAMPLE.index("cable pack")].count("\n") + 1
    assert cable.start.span.text == "pack"
    assert cable.end.span.text == "strip.in"
    fuse = cable.body.entries[2]
    assert fuse.span.text == "fuse 15 A at pack within 100 mm"
    assert [part.span.text for part in fuse.parts] == ["15 A", "at pack", "within 100 mm"]
