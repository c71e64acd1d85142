"""Statements for complex stations: many of one kind, assemblies and kits, includes, cases."""

from __future__ import annotations

from typing import TypeVar

import pytest

from copperpath_grammar import parse
from copperpath_grammar.nodes import (
    AssemblyNode,
    BondNode,
    CableNode,
    CaseNode,
    ChangeNode,
    DataNode,
    DeviceNode,
    ExposeNode,
    IncludeNode,
    KitNode,
    NeverNode,
    RequireNode,
    WithoutNode,
)
from copperpath_grammar.value_nodes import Entry, Number, Reference

Node = TypeVar("Node")


def only(text: str, kind: type[Node]) -> Node:
    """The one statement of a file that must be good."""
    result = parse(text)
    assert result.diagnostics == ()
    assert result.file is not None
    (statement,) = result.file.statements
    assert isinstance(statement, kind)
    return statement


def test_a_device_may_stand_for_many_of_its_kind() -> None:
    device = only("load handheld[6] : dock { power 5 W }", DeviceNode)
    assert isinstance(device.count, Number)
    assert (device.name.text, device.count.value) == ("handheld", 6.0)


def test_a_device_alone_has_no_count() -> None:
    assert only("load lamp : steady { power 5 W }", DeviceNode).count is None


def test_an_index_belongs_to_the_name_before_it() -> None:
    cable = only("cable strip.[1..6] -> handheld[2].line { length 1 m }", CableNode)
    alone = cable.start.parts[1]
    assert alone.text == ""
    assert alone.index is not None
    assert alone.index.last is not None
    first, terminal = cable.end.parts
    assert (first.text, terminal.text) == ("handheld", "line")
    assert first.index is not None
    assert first.index.last is None


@pytest.mark.parametrize(
    "path", ["strip.[1..6]", "box[2].rig", "box[1..2].rig[3].line", "table[2].1", "box[1].3.line"]
)
def test_a_path_with_indices_shows_as_it_was_written(path: str) -> None:
    assert only(f"never together {path}", NeverNode).members[0].text == path


def test_a_kit_names_its_assembly() -> None:
    kit = only("kit table[3] : radio_box { rating 20 A }", KitNode)
    assert (kit.name.text, kit.assembly.text) == ("table", "radio_box")
    assert [entry.name.text for entry in kit.body.entries] == ["rating"]


def test_an_assembly_has_parameters_lines_and_exposed_terminals() -> None:
    assembly = only(
        "assembly box(rating, run = 2 m) {\n"
        "block strip : strip { ways 4 }; let x = 3 m\n"
        "expose in -> strip.in; expose 1 -> strip.1\n}",
        AssemblyNode,
    )
    assert [(p.name.text, p.default is None) for p in assembly.parameters] == [
        ("rating", True),
        ("run", False),
    ]
    exposed = [line for line in assembly.lines if isinstance(line, ExposeNode)]
    assert [(e.terminal.text, e.target.text) for e in exposed] == [
        ("in", "strip.in"),
        ("1", "strip.1"),
    ]
    assert len(assembly.lines) == 4


def test_a_case_keeps_its_lines_in_their_order() -> None:
    case = only(
        'case "worse" {\nsky 30 % of clear\nwithout left, cable a -> b.1\n'
        "change rig { transmitting 30 % }\nair 2 degC\n}",
        CaseNode,
    )
    kinds = [type(line) for line in case.lines]
    assert kinds == [Entry, WithoutNode, ChangeNode, Entry]
    without = case.lines[1]
    assert isinstance(without, WithoutNode)
    device, cable = without.removed
    assert device.end is None
    assert cable.end is not None
    assert (cable.start.text, cable.end.text) == ("a", "b.1")


def test_a_thing_called_cable_can_be_changed_too() -> None:
    case = only('case "x" { change cable { mass 1 kg } }', CaseNode)
    (change,) = case.lines
    assert isinstance(change, ChangeNode)
    assert (change.start.text, change.end) == ("cable", None)


def test_a_requirement_may_hold_in_every_case_or_in_some() -> None:
    every = only("require rig powered throughout in every case", RequireNode)
    assert every.cases is not None
    assert every.cases.titles == ()
    some = only('require rig.voltage >= 10 V in case "a", "b"', RequireNode)
    assert some.cases is not None
    assert [title.value for title in some.cases.titles] == ["a", "b"]
    assert some.text == 'rig.voltage >= 10 V in case "a", "b"'


def test_includes_name_a_file_or_a_library() -> None:
    file = only('include "parts/radios.station"', IncludeNode)
    assert (file.library, file.path.value) == (False, "parts/radios.station")
    library = only('include library "panels"', IncludeNode)
    assert (library.library, library.path.value) == (True, "panels")


def test_a_data_lead_may_stand_with_or_without_a_body() -> None:
    assert only("data laptop -> rig", DataNode).body is None
    body = only("data laptop -> rig { isolated }", DataNode).body
    assert body is not None
    assert body.entries[0].name.text == "isolated"


def test_a_bond_keeps_the_word_between_its_ends() -> None:
    bond = only("bond rig to chassis", BondNode)
    assert (bond.start.text, bond.joiner.text, bond.end.text) == ("rig", "to", "chassis")


def test_an_entry_may_begin_with_a_joining_word() -> None:
    device = only("load warmer : heater { runs on surplus }", DeviceNode)
    (part,) = device.body.entries[0].parts
    assert part.joiner == "on"
    assert isinstance(part.value, Reference)


@pytest.mark.parametrize(
    "word",
    ["kit", "never", "together", "bond", "data", "include", "library", "assembly", "case", "in"],
)
def test_a_word_that_begins_a_statement_is_an_ordinary_name_elsewhere(word: str) -> None:
    device = only(f"load {word} : steady {{ {word} 5 W; mass {word} }}", DeviceNode)
    assert device.name.text == word
