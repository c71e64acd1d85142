"""`copperpath new`: whatever is chosen, the file it writes is in order and can be run."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from copperpath.cli.starter.choices import BATTERIES, GROUPS, LOADS, PANELS, RADIOS
from copperpath.cli.starter.questions import problem_with
from copperpath.cli.starter.text import Answers, device_names, starter_text
from copperpath.pipeline import load_text

OURS = [sys.executable, "-m", "copperpath.cli", "new"]


def called(*arguments: str, folder: Path, answers: str = "") -> subprocess.CompletedProcess[str]:
    """The command run in a folder, with lines typed at its questions."""
    return subprocess.run(
        [*OURS, *arguments], cwd=folder, input=answers, capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("group", GROUPS)
def test_every_choice_is_a_part_of_the_library_it_names(group: str) -> None:
    names = {"radio": "radios", "load": "loads"}
    for each in GROUPS[group]:
        if group in names:
            answers = replace(Answers(), **{names[group]: (each.part,)})
        else:
            answers = replace(Answers(), **{group: each.part})
        assert problem_with(answers) == ""


@pytest.mark.parametrize(
    ("battery", "panel", "generator"),
    [
        (battery.part, panel, generator)
        for battery, panel, generator in product(
            (BATTERIES[0], BATTERIES[-1]), ("", *(panel.part for panel in PANELS)), (False, True)
        )
    ],
)
def test_every_way_of_charging_is_in_order(battery: str, panel: str, generator: bool) -> None:
    answers = Answers(battery=battery, panel=panel, generator=generator)
    assert load_text(starter_text(answers)).diagnostics == ()


def test_everything_at_once_is_in_order() -> None:
    answers = Answers(
        radios=tuple(each.part for each in RADIOS[:4]),
        loads=tuple(each.part for each in LOADS),
        panel="panel_100w",
    )
    station = load_text(starter_text(answers)).station
    assert station is not None
    assert len([d for d in station.devices if d.kind == "load"]) == 4 + len(LOADS)


def test_two_of_a_kind_are_written_as_many() -> None:
    assert device_names(("fm_25w", "hf_10w", "fm_25w")) == [
        ("fm", "fm_25w", 2),
        ("hf", "hf_10w", 1),
    ]
    assert "load fm[2] : fm_25w" in starter_text(Answers(radios=("fm_25w", "fm_25w")))


def test_two_sizes_of_a_kind_have_names_of_their_own() -> None:
    assert [name for name, _, _ in device_names(("fm_25w", "fm_50w"))] == ["fm25", "fm50"]


def test_the_radios_are_given_up_last_in_the_order_in_which_they_were_named() -> None:
    text = starter_text(Answers(radios=("hf_10w", "fm_5w"), loads=("lamp_6w",)))
    station = load_text(text).station
    assert station is not None
    assert {d.name: d.priority for d in station.devices if d.priority} == {
        "hf": 1,
        "fm": 2,
        "lamp": 3,
    }


def test_flags_alone_ask_nothing(tmp_path: Path) -> None:
    done = called("my.station", "--radios", "2 fm_25w", "--lasts", "3 days", folder=tmp_path)
    assert done.returncode == 0, done.stderr
    text = (tmp_path / "my.station").read_text(encoding="utf-8")
    assert "lasts 3 days" in " ".join(text.split())
    assert "copperpath run my.station" in text


def test_without_flags_it_asks_and_an_empty_answer_takes_what_is_proposed(tmp_path: Path) -> None:
    done = called("my.station", folder=tmp_path, answers="Bog\n" + 9 * "\n")
    assert done.returncode == 0, done.stderr
    assert 'station "Bog" {' in (tmp_path / "my.station").read_text(encoding="utf-8")


def test_an_answer_that_no_file_can_hold_is_asked_again(tmp_path: Path) -> None:
    done = called("my.station", folder=tmp_path, answers="Bog\n470 N, 9 E\n47 N, 9 E\n" + 9 * "\n")
    assert done.returncode == 0, done.stderr
    text = (tmp_path / "my.station").read_text(encoding="utf-8")
    assert "place 47 N, 9 E" in " ".join(text.split())
    assert "Error" in done.stdout + done.stderr


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["my.text", "--lasts", "3 h"], "ends in `.station`"),
        (["there.station", "--lasts", "3 h"], "exists already"),
        (["my.station", "--radios", "fm_7w"], "is none of"),
        (["my.station", "--lasts", "3 A"], "`lasts` takes a time"),
        (["my.station", "--battery", "none"], "name one of them"),
    ],
)
def test_a_wrong_call_writes_nothing_and_says_why(
    tmp_path: Path, arguments: list[str], words: str
) -> None:
    (tmp_path / "there.station").write_text("mine", encoding="utf-8")
    done = called(*arguments, folder=tmp_path)
    assert done.returncode == 2
    assert words in " ".join(done.stderr.split())
    assert [file.name for file in tmp_path.iterdir()] == ["there.station"]


def test_the_file_it_writes_runs(tmp_path: Path) -> None:
    called("my.station", "--panel", "panel_100w", "--battery", "lfp_50ah", folder=tmp_path)
    run = [sys.executable, "-m", "copperpath.cli", "run", "my.station"]
    done = subprocess.run(run, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.stdout.splitlines()[3].startswith("HOLDS")
