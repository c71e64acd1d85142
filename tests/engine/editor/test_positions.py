"""Places are counted as the protocol has them: lines, and UTF-16 code units in a line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copperpath.editor.positions import Position, offset_at, position_at
from copperpath_grammar import Source

TEXTS = st.text(alphabet=st.sampled_from("ab µ²😀\n"), max_size=40)


@given(TEXTS, st.data())
def test_an_offset_survives_the_way_to_a_position_and_back(text: str, data: st.DataObject) -> None:
    source = Source("x", text)
    offset = data.draw(st.integers(0, len(text)))
    assert offset_at(source, position_at(source, offset)) == offset


@given(TEXTS, st.data())
def test_characters_are_counted_in_utf_16_units(text: str, data: st.DataObject) -> None:
    offset = data.draw(st.integers(0, len(text)))
    line = text[:offset].rpartition("\n")[2]
    position = position_at(Source("x", text), offset)
    assert position.character == len(line.encode("utf-16-le")) // 2
    assert position.line == text[:offset].count("\n")


@pytest.mark.parametrize(
    ("position", "offset"),
    [
        (Position(0, 99), 2),
        (Position(1, 99), 6),
        (Position(7, 0), 6),
        (Position(-1, 0), 0),
        (Position(0, -3), 0),
    ],
)
def test_a_place_outside_the_text_is_brought_inside(position: Position, offset: int) -> None:
    assert offset_at(Source("x", "ab\r\ncd"), position) == offset


def test_a_place_inside_a_pair_of_units_is_behind_its_letter() -> None:
    assert offset_at(Source("x", "😀b"), Position(0, 1)) == 1
