"""`copperpath explain`, and the line under the mistakes of a file that leads to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from copperpath.cli.main import exit_code
from copperpath.report.mistake_pages import page_files

TWO_MISTAKES = """station "Bog" {
    place 64.2 N, 27.7 E; starts 2026-06-19 08:00 +03:00; lasts 72 h
    sky clear; air 8 degC .. 19 degC
}
storage pack : lfp { capacity 12 A }
load rig : transciever { receive 0,3 A }
cable pack -> rig { length 1 m; wire 1.5 mm2; fuse 10 A at pack }
"""


def printed(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    assert exit_code(arguments) == 0
    return capsys.readouterr().out


def refused(text: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """The lines printed on a file with mistakes."""
    file = folder / "bog.station"
    file.write_text(text)
    assert exit_code(["check", str(file)]) == 2
    return capsys.readouterr().err.splitlines()


def test_a_code_is_explained_with_both_texts(capsys: pytest.CaptureFixture[str]) -> None:
    words = printed(["explain", "syntax/decimal-comma"], capsys)
    assert words.startswith("syntax/decimal-comma\n\nA number has a decimal comma.")
    assert "\nWrong\n\n  load rig : transceiver { receive 0,5 A }\n" in words
    assert "\n  problem: `0,5 A` has a decimal comma\n" in words
    assert words.endswith("\nRight\n\n  load rig : transceiver { receive 0.5 A }\n")


def test_the_first_word_of_a_code_may_be_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    whole = printed(["explain", "syntax/decimal-comma"], capsys)
    assert printed(["explain", "decimal-comma"], capsys) == whole


def test_without_a_code_all_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    words = printed(["explain"], capsys).replace(",", " ").split()
    assert [code for code in page_files() if code not in words] == []


@pytest.mark.parametrize("word", ["build/unknwon-model", "unknwon-model"])
def test_a_mistyped_code_is_answered_with_the_nearest(
    word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["explain", word]) == 2
    err = capsys.readouterr().err
    assert f"there is no mistake or rule `{word}`; did you mean `build/unknown-model`" in " ".join(
        err.split()
    )
    assert max(len(line) for line in err.splitlines()) <= 80


def test_one_mistake_names_the_call_that_explains_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = TWO_MISTAKES.replace("transciever { receive 0,3 A }", "steady { power 5 W }")
    lines = refused(text, tmp_path, capsys)
    assert lines[-2].endswith("bog.station: 1 mistake; nothing was run")
    assert lines[-1] == "`copperpath explain build/wrong-dimension` says more"


def test_several_mistakes_name_each_code_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = TWO_MISTAKES.replace("length 1 m", "length 1 A")
    last = " ".join(refused(text, tmp_path, capsys)[-2:])
    assert last.startswith("`copperpath explain CODE` says more: build/wrong-dimension, ")
    assert last.count("build/wrong-dimension") == 1
    assert last.endswith("syntax/decimal-comma")


def test_a_wiring_rule_is_explained_with_where_its_limit_comes_from(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert exit_code(["explain", "line-drop"]) == 0
    out = capsys.readouterr().out
    assert "ABYC E-11" in out
    assert 'accept "line-drop", "why it may stand"' in out


def test_a_question_of_the_checklist_says_how_it_is_answered(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert exit_code(["explain", "generator-outdoors"]) == 0
    assert 'confirm "exhaust-outdoors", "how it was done"' in capsys.readouterr().out


def test_the_list_names_the_rules_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["explain"]) == 0
    out = capsys.readouterr().out
    assert "Wiring rules" in out
    assert "cold-panels" in out
