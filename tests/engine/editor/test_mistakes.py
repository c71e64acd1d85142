"""Mistakes while typing: where, what, what to write instead, and what else to look at."""

from __future__ import annotations

from support.building import SMALL
from support.editor_texts import reading_of

from copperpath.editor.mistakes import Mistake, mistakes_in
from copperpath.editor.positions import Position, Stretch


def found(text: str) -> list[Mistake]:
    return mistakes_in(reading_of(text))["x.station"]


def test_a_good_text_has_an_empty_list() -> None:
    assert found(SMALL) == []


def test_a_mistake_marks_the_words_and_tells_the_remedy() -> None:
    mistake, *others = found(SMALL.replace("length 1 m", "length 1 A"))
    assert others == []
    line = len(SMALL.splitlines()) - 1
    column = SMALL.splitlines()[-1].index("1 m")
    assert mistake.stretch == Stretch(Position(line, column), Position(line, column + 3))
    assert "length" in mistake.message
    assert "\n" in mistake.message
    assert mistake.code.startswith("build/")


def test_places_count_utf_16_units() -> None:
    line = 'storage pack : lfp { note "😀"; capacity 12 A }'
    mistake = found(SMALL.replace("storage pack : lfp { capacity 12 Ah }", line))[0]
    assert mistake.stretch.start.character == line.index("12 A") + 1


def test_an_earlier_declaration_is_a_related_place() -> None:
    text = SMALL.replace("load rig", "load Pack : steady { power 3 W }\nload rig")
    mistake = found(text)[0]
    assert [each.file for each in mistake.related] == ["x.station"]
    assert mistake.related[0].stretch.start.line == text.splitlines().index(
        "storage pack : lfp { capacity 12 Ah }"
    )
    assert mistake.related[0].text


def test_every_mistake_is_at_least_one_letter_wide() -> None:
    for text in ("", "load", "load a : steady {", 'station "a', SMALL[:-30]):
        for mistake in found(text):
            assert mistake.stretch.start < mistake.stretch.end
