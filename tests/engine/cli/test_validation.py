"""`copperpath validation` shows what was held against the outside world."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from copperpath.cli.main import exit_code
from copperpath.report.layout import WIDTH, cells_of
from copperpath.report.validation import read_validation

TOPICS = [topic.name for topic in read_validation().topics]


def shown(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert exit_code(["validation", *words]) == 0
    return capsys.readouterr().out


def test_every_topic_has_its_line(capsys: pytest.CaptureFixture[str]) -> None:
    lines = shown(capsys).splitlines()
    found = [line.split()[0] for line in lines if line.startswith("  ") and line.split()]
    assert set(TOPICS) <= set(found)


def test_what_differs_and_what_is_not_checked_is_not_hidden(
    capsys: pytest.CaptureFixture[str],
) -> None:
    screen = " ".join(shown(capsys).split())
    validation = read_validation()
    reasons = {figure.disagrees for figure in validation.figures} - {""}
    reasons |= {left.reason for left in validation.not_checked}
    assert reasons
    assert all(reason in screen for reason in reasons)


@pytest.mark.parametrize("topic", TOPICS)
def test_a_topic_shows_every_claim_and_source(
    topic: str, capsys: pytest.CaptureFixture[str]
) -> None:
    screen = " ".join(shown(capsys, "--topic", topic).split())
    for figure in read_validation().of(topic):
        assert " ".join(figure.claim.split()) in screen
        assert figure.source in screen


@pytest.mark.parametrize("topic", ["", *TOPICS])
def test_it_fits_the_narrowest_screen(topic: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["--topic", topic] if topic else []
    assert all(cells_of(line) <= WIDTH for line in shown(capsys, *words).splitlines())


def test_as_json_it_has_every_figure_with_its_unit(capsys: pytest.CaptureFixture[str]) -> None:
    data = json.loads(shown(capsys, "--json"))
    assert len(data["figures"]) == len(read_validation().figures)
    first = data["figures"][0]
    assert first["off"] == pytest.approx(first["ours"] - first["expected"])
    assert {"unit", "tolerance", "why", "source", "obtained", "agrees"} <= set(first)


def test_json_of_a_topic_has_that_topic_alone(capsys: pytest.CaptureFixture[str]) -> None:
    data = json.loads(shown(capsys, "--topic", "sun", "--json"))
    assert {figure["topic"] for figure in data["figures"]} == {"sun"}


def test_an_unknown_topic_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["validation", "--topic", "wire"]) == 2
    assert "did you mean `wires`?" in capsys.readouterr().err


def test_it_needs_none_of_the_libraries_that_take_long_to_load() -> None:
    code = (
        "import sys\n"
        "from copperpath.cli.main import exit_code\n"
        "exit_code(['validation', '--topic', 'units'])\n"
        "print(*[n for n in ('numpy', 'pandas', 'pvlib', 'numba') if n in sys.modules])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True
    )
    assert done.stdout.splitlines()[-1] == ""
