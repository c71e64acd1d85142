"""Formatting through an editor gives what the formatter gives, and changes no other line."""

from __future__ import annotations

import random

import pytest
from grammar.example import EXAMPLE
from support.building import SMALL
from support.editor_texts import reading_of
from support.runs import HERON_BOG

from copperpath.editor.formatting import format_edits
from copperpath.editor.rename import applied
from copperpath_grammar.formatter import format_text

TEXTS = {"heron_bog": HERON_BOG.read_text(encoding="utf-8"), "complex": EXAMPLE, "small": SMALL}


@pytest.mark.parametrize("name", TEXTS)
@pytest.mark.parametrize("seed", range(5))
def test_the_edits_give_the_canonical_form(name: str, seed: int) -> None:
    dice = random.Random(seed)
    lines = TEXTS[name].splitlines(keepends=True)
    for _ in range(4):
        place = dice.randrange(len(lines))
        lines[place] = "  " * dice.randrange(4) + lines[place].replace(" ", "  ")
    text = "".join(lines)
    assert applied(text, format_edits(reading_of(text))) == format_text(text).text


def test_lines_that_are_in_order_are_not_touched() -> None:
    text = format_text(SMALL).text
    assert format_edits(reading_of(text)) == []
    (edit,) = format_edits(reading_of(text.replace("storage pack", "storage   pack")))
    assert edit.span.line == edit.span.source.line_of(edit.span.end - 1)


def test_a_text_that_cannot_be_read_is_left_alone() -> None:
    assert format_edits(reading_of(SMALL + "cable   pack ->\n")) == []
