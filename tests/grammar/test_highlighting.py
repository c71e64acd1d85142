"""Colours for station texts: nothing gets lost, nothing good is marked as wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from grammar.example import EXAMPLE
from pygments.lexers import get_lexer_by_name, get_lexer_for_filename
from pygments.token import Comment, Error, Keyword, Name, Number, Operator, String, _TokenType
from support.station_texts import station_text

from copperpath_grammar.highlighting import StationLexer
from copperpath_grammar.statement_words import EXAMPLES, INSIDE_ONLY, STATEMENT_WORDS

ROOT = Path(__file__).parents[2]
STATIONS = sorted(
    file for folder in ("docs", "tests", "plugins") for file in (ROOT / folder).rglob("*.station")
)
TEXTS = [EXAMPLE, *(file.read_text(encoding="utf-8") for file in STATIONS)]


def coloured(text: str) -> list[tuple[_TokenType, str]]:
    """The pieces of a text without its blanks."""
    pieces = StationLexer().get_tokens_unprocessed(text)
    return [(kind, piece) for _, kind, piece in pieces if piece.strip()]


def kinds_of(text: str, word: str) -> list[_TokenType]:
    """The kinds that a word has in a text, in order."""
    return [kind for kind, piece in coloured(text) if piece == word]


def test_pygments_finds_it_by_name_and_by_the_ending_of_a_file() -> None:
    assert isinstance(get_lexer_by_name("station"), StationLexer)
    assert isinstance(get_lexer_for_filename("heron_bog.station"), StationLexer)


@pytest.mark.parametrize("text", TEXTS, ids=["example", *(file.stem for file in STATIONS)])
def test_nothing_in_a_station_is_marked_as_wrong_or_lost(text: str) -> None:
    pieces = list(StationLexer().get_tokens_unprocessed(text))
    assert "".join(piece for _, _, piece in pieces) == text
    assert [piece for _, kind, piece in pieces if kind is Error] == []
    place = 0
    for start, _, piece in pieces:
        assert start == place
        place += len(piece)


def test_nothing_of_a_file_made_at_random_is_lost() -> None:
    for seed in range(40):
        text = station_text(seed)
        pieces = StationLexer().get_tokens_unprocessed(text)
        assert "".join(piece for _, _, piece in pieces) == text


@pytest.mark.parametrize("text", ['load "open', "'quoted' “so” // and § {", "}}}{{{;;", "\x00\r#"])
def test_nothing_of_a_broken_text_is_lost(text: str) -> None:
    pieces = StationLexer().get_tokens_unprocessed(text)
    assert "".join(piece for _, _, piece in pieces) == text


def test_every_statement_has_an_example_to_try() -> None:
    assert set(EXAMPLES) == {*STATEMENT_WORDS, *INSIDE_ONLY}


@pytest.mark.parametrize("word", EXAMPLES)
def test_the_word_that_begins_a_statement_is_a_keyword(word: str) -> None:
    owner = {"an assembly": "assembly box() {\n%s\n}", "a case": 'case "x" {\n%s\n}'}
    text = owner.get(INSIDE_ONLY.get(word, ""), "%s") % EXAMPLES[word]
    assert kinds_of(text, word)[0] is Keyword


@pytest.mark.parametrize("word", [*STATEMENT_WORDS, *INSIDE_ONLY, "together", "in", "powered"])
def test_such_a_word_is_a_name_where_it_names_something(word: str) -> None:
    text = f"load {word} : steady {{ {word} 3 W; mass {word}; note x.{word} }}"
    kinds = kinds_of(text, word)
    first = [Keyword] if word == "load" else []
    assert kinds == [*first, Name, Name.Attribute, Name, Name]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("never together rig, relay", ["never", "together"]),
        ('include library "panels"', ["include", "library"]),
        ("require rig powered for 48 h in every case", ["require", "powered", "for", "in", "case"]),
        ("require for powered throughout", ["require", "powered", "throughout"]),
        (
            'case "x" { without a, cable b -> c; change cable d -> e { wire 1 mm2 } }',
            ["case", "without", "cable", "change", "cable"],
        ),
        ("assembly a() { expose in -> case.in }", ["assembly", "expose"]),
    ],
)
def test_the_keywords_of_a_statement_are_coloured(text: str, words: list[str]) -> None:
    assert [piece for kind, piece in coloured(text) if kind is Keyword] == words


def test_every_other_kind_has_its_colour() -> None:
    text = 'load rig : dock { fuse 10 A at pack; wire AWG 14; on 06:00 to 8:00; note "a # b" } # c'
    assert coloured(text)[3:8] == [
        (Name.Class, "dock"),
        (coloured("{")[0][0], "{"),
        (Name.Attribute, "fuse"),
        (Number, "10 A"),
        (Operator.Word, "at"),
    ]
    assert kinds_of(text, "AWG 14") == [Number]
    assert kinds_of(text, "on") == [Name.Attribute]
    assert kinds_of(text, "to") == [Operator.Word]
    assert kinds_of(text, '"a # b"') == [String]
    assert kinds_of(text, "# c") == [Comment.Single]


def test_what_no_file_may_hold_is_marked_as_wrong() -> None:
    assert kinds_of("load 'rig'", "'rig'") == [Error]
