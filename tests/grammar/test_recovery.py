"""Files with mistakes: what is still read, and that nothing cascades or crashes."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest
from grammar.example import EXAMPLE
from hypothesis import given, settings
from hypothesis import strategies as st
from support.mutants import mutants

from copperpath_grammar import LONGEST_TEXT, ParseResult, Span, as_records, parse, render
from copperpath_grammar.lexing import read_tokens
from copperpath_grammar.nodes import DeviceNode
from copperpath_grammar.recovery import MOST_MISTAKES, recover
from copperpath_grammar.token_mistakes import declared_names

WORDS = st.sampled_from(
    [
        *("load", "cable", "station", "part", "let", "require", "rig", "x", "powered", "at", "to"),
        *("{", "}", "(", ")", ":", ";", ",", "->", "..", ".", "=", "<", "-", "*", "/", "#", "\n"),
        *(
            '"',
            "'",
            '"text"',
            "5",
            "5 m",
            "0,5",
            "1e999",
            "06:00",
            "25:00",
            "2026-02-30",
            " ",
            "\r",
        ),
        *("\0", "\ufeff", "é", "灯", "²", "°", "%", "٣", "\ud800"),
    ]
)


def spans_in(thing: object) -> Iterator[Span]:
    """All spans in a node or diagnostic and below it."""
    if isinstance(thing, Span):
        yield thing
    elif isinstance(thing, tuple):
        for each in thing:
            yield from spans_in(each)
    elif is_dataclass(thing):
        for part in fields(thing):
            yield from spans_in(getattr(thing, part.name))


def check_sound(result: ParseResult) -> None:
    """A result has nodes or complaints, and every span lies within the text."""
    assert result.file is not None or result.diagnostics
    length = len(result.source.text)
    for span in (*spans_in(result.file), *spans_in(result.diagnostics)):
        assert 0 <= span.start <= span.end <= length
    starts = [each.span.start for each in result.diagnostics]
    assert starts == sorted(starts)
    assert len(starts) <= MOST_MISTAKES + 1
    for line in render(result.diagnostics).splitlines():
        assert line.isprintable()
    for record in as_records(result.diagnostics):
        assert record["message"]
        assert record["help"]
        assert record["code"].startswith("syntax/")


@given(st.text(st.characters(exclude_categories=())))
@settings(deadline=None, max_examples=200)
def test_no_text_makes_the_parser_fail(text: str) -> None:
    check_sound(parse(text))


@given(st.lists(WORDS, max_size=40))
@settings(deadline=None, max_examples=300)
def test_no_heap_of_words_makes_the_parser_fail(words: list[str]) -> None:
    check_sound(parse(" ".join(words)))


def test_no_mutant_of_a_good_file_makes_the_parser_fail() -> None:
    for text in mutants(EXAMPLE, 150, seed=7):
        check_sound(parse(text))


@pytest.mark.long
def test_no_mutant_of_a_long_run_makes_the_parser_fail() -> None:
    for text in mutants(EXAMPLE, 5000, seed=8):
        check_sound(parse(text))


def test_mutants_depend_on_the_seed_alone() -> None:
    assert list(mutants(EXAMPLE, 20, seed=1)) == list(mutants(EXAMPLE, 20, seed=1))
    assert list(mutants(EXAMPLE, 20, seed=1)) != list(mutants(EXAMPLE, 20, seed=2))


def test_reading_in_pieces_gives_the_same_nodes_as_reading_at_once() -> None:
    at_once = parse(EXAMPLE)
    assert at_once.file is not None
    tokens = read_tokens(EXAMPLE)
    statements, broken, diagnostics = recover(tokens, at_once.source, declared_names(tokens))
    assert (broken, diagnostics) == ((), ())
    assert statements == at_once.file.statements


@pytest.mark.parametrize(
    "text",
    [
        "(" * 30_000,
        "{" * 30_000,
        "}" * 30_000,
        "load x : y {" * 10_000,
        "load x : y {\n" * 10_000,
        " load x : y {\n" * 10_000,
        "let x = " + "1 + " * 30_000 + "1",
        "let x = " + "-" * 130_000 + "1",
        "let x = " + "9" * 140_000,
        "\0" * 140_000,
        "a" * 230_000,
        "a " * 70_000,
        "a\n" * 70_000,
        '"' * 230_000,
        "'" * 230_000,
        "load x : y { a 1, 2 }\n" * 6_500,
        "1," * 70_000,
        "load rig : x { mode " + "ssb, " * 25_000 + "ssb }",
        "#" * 1_000_000,
        "x" * 1_000_000,
    ],
    ids=range(20),
)
def test_hostile_texts_are_answered_within_two_seconds(text: str) -> None:
    began = time.process_time()
    result = parse(text)
    render(result.diagnostics)
    assert time.process_time() - began < 2.0
    assert result.diagnostics or result.file


def test_a_text_that_is_too_long_is_not_read() -> None:
    (only,) = parse("#" * (LONGEST_TEXT + 1)).diagnostics
    assert only.code == "syntax/file-too-long"


def test_after_fifty_mistakes_reading_stops() -> None:
    result = parse("load lamp : steady { power 0,5 W }\n" * 80)
    assert len(result.diagnostics) == MOST_MISTAKES + 1
    assert result.diagnostics[-1].code == "syntax/too-many-mistakes"


def test_what_can_be_read_is_read() -> None:
    result = parse("load rig : radio { receive 0,3 A; mode cw }\nload : x { }\nlet y = 2 m\n")
    assert result.file is not None
    rig, value = result.file.statements
    assert isinstance(rig, DeviceNode)
    assert [entry.name.text for entry in rig.body.entries] == ["mode"]
    assert [name.text for name in rig.body.broken] == ["receive"]
    assert [name.text for name in result.file.broken] == ["load"]
    assert value.span.text == "let y = 2 m"


def test_a_statement_that_cannot_be_read_is_known_by_its_name() -> None:
    result = parse("load rig transceiver { }\ncable a = b { }\nstation { }\nbattery pack : lfp { }")
    assert result.file is not None
    assert [name.text for name in result.file.broken] == ["rig", "cable", "station", "pack"]


@pytest.mark.parametrize(
    "text",
    [
        'station "Bog {\n lasts 72 h\n}\nload rig : transceiver { mode ssb }',
        "load rig : transceiver {\n mode ssb\n\nload lamp : steady { power 3 W }",
        "load rig : transceiver\n receive 0.3 A\n mode ssb\n}\nload lamp : steady { }",
        "load rig : transceiver { mode ssb\n }\n }\nload lamp : steady { power 3 W }",
        "load rig : transceiver { mode ssb } wire 4 mm2; fuse 5 A at strip }",
        "laod rig : transceiver {\n receive 0.3 A\n mode ssb\n}\nload lamp : steady { }",
        "some words\nthat are no station file\nat all\n",
    ],
)
def test_one_mistake_gives_one_message(text: str) -> None:
    assert len(parse(text).diagnostics) == 1
