"""Station files in their canonical form: the layout, and what formatting must never change."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from support.cases import case_name, cases_in, check_case, read_case, stray_outputs
from support.station_texts import station_text
from support.trees import bare

from copperpath_grammar import parse
from copperpath_grammar.formatter import format_text
from copperpath_grammar.lexing import read_tokens

ROOT = Path(__file__).parents[3]
CASES = Path(__file__).parent / "cases"
STATIONS = sorted(
    file for folder in ("docs", "tests", "plugins") for file in (ROOT / folder).rglob("*.station")
)


def formatted(text: str) -> str:
    """The canonical form of a text without mistakes."""
    result = format_text(text)
    assert result.diagnostics == ()
    return result.text


def remarks(text: str) -> list[str]:
    """The remarks of a text in order; none of those tried here holds a quote before its `#`."""
    plain = re.sub(r"\r\n?", "\n", text.removeprefix("\ufeff"))
    for token in reversed(read_tokens(plain)):
        if token.type == "TEXT":  # a `#` in a text begins no remark
            start, end = token.start_pos or 0, token.end_pos or 0
            plain = plain[:start] + "T" * (end - start) + plain[end:]
    return [line.partition("#")[2].rstrip() for line in plain.split("\n") if "#" in line]


def assert_only_the_layout_changes(text: str) -> None:
    """The tree and the remarks are kept, and the form is its own form."""
    before = parse(text)
    assert before.diagnostics == ()
    done = formatted(text)
    assert bare(parse(done).file) == bare(before.file)
    assert remarks(done) == remarks(text)
    assert formatted(done) == done
    lines = done.split("\n")
    assert lines[0] != ""
    assert lines[-1] == ""
    assert all(line == line.rstrip() and "\t" not in line.partition('"')[0] for line in lines)
    assert "\n\n\n" not in done
    assert not re.search(r"\n\n *\}|\{\n\n", done)


@pytest.mark.parametrize("case", cases_in(CASES), ids=case_name)
def test_a_file_gets_the_form_that_stands_beside_it(case: Path) -> None:
    check_case(case, lambda text, name: formatted(text))


@pytest.mark.parametrize("case", cases_in(CASES), ids=case_name)
def test_a_case_keeps_its_tree_and_its_remarks(case: Path) -> None:
    assert_only_the_layout_changes(read_case(case))


def test_no_output_is_left_without_its_text() -> None:
    assert stray_outputs(CASES) == []


@pytest.mark.parametrize("first", range(0, 120, 20))
def test_a_file_made_at_random_keeps_its_tree_and_its_remarks(first: int) -> None:
    for seed in range(first, first + 20):
        assert_only_the_layout_changes(station_text(seed))


@pytest.mark.long
@pytest.mark.parametrize("first", range(1000, 6000, 500))
def test_many_files_made_at_random_keep_their_trees_and_their_remarks(first: int) -> None:
    for seed in range(first, first + 500):
        assert_only_the_layout_changes(station_text(seed))


def test_the_files_made_at_random_hold_every_kind_of_statement() -> None:
    seen: set[str] = set()
    for seed in range(60):
        file = parse(station_text(seed)).file
        assert file is not None
        seen |= set(re.findall(r"'(\w+Node|Entry|Removed|InCases)'", str(bare(file))))
    nodes = "Station Part Device Kit Cable Let Require Never Bond Data Include Assembly Case"
    wanted = {f"{name}Node" for name in f"{nodes} Expose Change Without".split()}
    assert wanted | {"Entry", "Removed", "InCases", "FileNode"} == seen


@pytest.mark.parametrize("file", STATIONS, ids=lambda file: file.stem)
def test_every_station_of_the_checkout_has_the_canonical_form(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert_only_the_layout_changes(text)
    assert formatted(text) == text


def test_a_file_with_a_mistake_is_left_as_it_is() -> None:
    text = "load  lamp :: steady { power 3W }\n"
    result = format_text(text, "wrong.station")
    assert result.text == text
    assert [each.span.source.name for each in result.diagnostics] == ["wrong.station"]


def test_a_long_name_does_not_push_its_neighbours_away() -> None:
    long = "n" * 60
    text = formatted(f"load a : steady {{ }}\nload {long} : steady {{ }}\nload bcd : steady {{ }}")
    assert text.splitlines() == [
        "load a   : steady { }",
        f"load {long} : steady {{ }}",
        "load bcd : steady { }",
    ]


def test_a_line_that_columns_would_make_too_wide_keeps_its_single_blanks() -> None:
    wide = "load ab : steady { power 3 W; note " + '"' + "x" * 80 + '" }'
    near = "converter abcdefghijkl : step_down_model { output 5 V }"
    assert len(wide) < 120
    assert wide in formatted(f"{wide}\n{near}").splitlines()


def test_wide_letters_are_counted_as_they_are_shown() -> None:
    """Each of the two letters takes two columns of a terminal."""
    text = formatted("load 電台 : steady { }\nload abcd : steady { }")
    assert text.splitlines() == ["load 電台 : steady { }", "load abcd : steady { }"]


@pytest.mark.parametrize(
    ("text", "form"),
    [
        ("require a . 1 . 5 >= 3", "require a.1 . 5 >= 3"),
        ("let a = AWG14..5 m", "let a = AWG14.. 5 m"),
        ("never together b.1\u2003,c", "never together b.1, c"),
        ("let a = 5e3", "let a = 5e3"),
        ("load a : b { on -5 V }", "load a : b { on -5 V }"),
        ("let a = b -5 V", "let a = b - 5 V"),
        ("require for powered for - 2 h", "require for powered for -2 h"),
        ("let a = for -2 h", "let a = for - 2 h"),
    ],
)
def test_blanks_never_make_another_word(text: str, form: str) -> None:
    assert formatted(text) == form + "\n"
    assert_only_the_layout_changes(text)


def test_two_thousand_statements_take_less_than_two_seconds() -> None:
    text = "".join(
        f"load r{n} : steady {{ power 3 W; mass 1 kg }}\ncable s.{n} -> r{n} {{ length {n} m }}\n"
        for n in range(1, 1001)
    )
    formatted("let a = 1")  # the parser is built once
    start = time.process_time()
    formatted(text)
    assert time.process_time() - start < 2.0
