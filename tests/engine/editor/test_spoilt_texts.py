"""Whatever is typed, every request of an editor is answered: never an exception."""

from __future__ import annotations

import random
from contextlib import suppress

import pytest
from grammar.example import EXAMPLE
from support.editor_texts import reading_of
from support.mutants import mutants
from support.runs import HERON_BOG

from copperpath.editor.completion import complete
from copperpath.editor.contents import contents
from copperpath.editor.definition import definitions, references
from copperpath.editor.hover import hover
from copperpath.editor.mistakes import mistakes_in
from copperpath.editor.positions import offset_at, position_at
from copperpath.editor.rename import RenameRefused, rename

TEXTS = {"heron_bog": HERON_BOG.read_text(encoding="utf-8"), "complex": EXAMPLE}


def ask_everything(text: str, places: int, dice: random.Random) -> None:
    """Every request, at some places of a text."""
    reading = reading_of(text)
    mistakes_in(reading)
    contents(reading)
    for _ in range(places):
        offset = dice.randint(0, len(reading.source.text))
        position = position_at(reading.source, offset)
        assert 0 <= offset_at(reading.source, position) <= len(reading.source.text)
        found = complete(reading, offset)
        assert 0 <= found.start <= found.end == offset
        hover(reading, offset)
        definitions(reading, offset)
        references(reading, offset, declarations=True)
        with suppress(RenameRefused):
            rename(reading, offset, "another")


def run(text: str, count: int, seed: int) -> None:
    dice = random.Random(seed)
    for spoilt in mutants(text, count, seed):
        try:
            ask_everything(spoilt, 4, dice)
        except Exception as mistake:
            raise AssertionError(f"raises on:\n{spoilt!r}") from mistake


@pytest.mark.parametrize("name", TEXTS)
def test_spoilt_texts_are_answered_without_an_exception(name: str) -> None:
    run(TEXTS[name], 60, seed=31)


@pytest.mark.long
@pytest.mark.parametrize("name", TEXTS)
def test_a_thousand_spoilt_texts_are_answered_without_an_exception(name: str) -> None:
    run(TEXTS[name], 500, seed=32)


@pytest.mark.parametrize("name", TEXTS)
def test_a_text_cut_off_anywhere_is_answered_without_an_exception(name: str) -> None:
    text = TEXTS[name]
    for end in range(0, len(text), 23):
        reading = reading_of(text[:end])
        complete(reading, end)
        hover(reading, end)
