"""Calls that are wrong: each is told in words, with exit code 2, and never with a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code
from copperpath.cli.say import fitted

GOOD_TEXT = Path(__file__).parents[3] / "docs" / "stations" / "heron_bog.station"


def told(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What a wrong call prints; nothing of it is on standard output."""
    assert exit_code(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    return err


def test_a_missing_file_is_answered_with_the_nearest_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "heron_bog.station").write_text("")
    message = told(["run", str(tmp_path / "heron_bgo.station")], capsys)
    assert "does not exist; did you mean" in message
    assert "heron_bog.station?" in message


def test_a_folder_is_not_a_station(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "is a folder; name a file in it" in told(["check", str(tmp_path)], capsys)


def test_a_closed_file_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "closed.station"
    file.write_text("")
    # Nothing is closed to the super user, as whom this may run: the system's answer is put in.
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    assert "permission denied" in told(["check", str(file)], capsys)


@pytest.mark.parametrize("step", ["3", "fast", "60 m/s", "-60s", "0s", "2h", "1e3s", "٣s", "nan s"])
def test_a_step_that_is_none_is_refused(step: str, capsys: pytest.CaptureFixture[str]) -> None:
    message = told(["run", str(GOOD_TEXT), f"--step={step}"], capsys)
    assert "Invalid value for '--step'" in message
    assert "`copperpath run --help` shows how it is used." in message


@pytest.mark.parametrize("name", ["out.xls", "missing/out.csv"])
def test_a_series_that_cannot_be_written_is_refused_before_the_run(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told(["run", str(GOOD_TEXT), "--series", str(tmp_path / name)], capsys)


def test_an_unknown_option_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert "No such option" in told(["run", str(GOOD_TEXT), "--stepp", "60s"], capsys)


def test_an_unknown_model_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert "did you mean `lfp`?" in told(["models", "lpf"], capsys)


def test_a_plugin_that_cannot_be_run_is_told_with_its_reason(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plugin = tmp_path / "broken.py"
    plugin.write_text("1 / 0\n")
    message = told(["models", "--plugin", str(plugin)], capsys)
    assert "ZeroDivisionError" in message


@pytest.mark.parametrize("content", [b"\xff\xfes\x00t\x00", b"caf\xe9 {}", b"\x00\x01", b""])
def test_a_file_that_is_no_plain_text_is_told_in_words(
    content: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "odd.station"
    file.write_bytes(content)
    assert "odd.station" in told(["check", str(file)], capsys)


def test_without_a_command_the_help_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert "Commands:" in told([], capsys)


@pytest.mark.parametrize("command", ["run", "check", "models", "export"])
def test_help_fits_80_columns(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code([command, "--help"]) == 0
    assert max(len(line) for line in capsys.readouterr().out.splitlines()) <= 80


def test_a_reader_that_goes_away_is_no_mistake() -> None:
    done = subprocess.run(
        ["bash", "-c", f"'{sys.executable}' -m copperpath.cli models lfp | head -1"],
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.stderr == ""
    assert done.stdout.startswith("lfp (storage)")


def test_a_terminal_without_utf_8_gets_plain_signs() -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(
        [sys.executable, "-m", "copperpath.cli", "models", "photovoltaic"],
        capture_output=True,
        env=environment,
        check=False,
    )
    assert done.returncode == 0
    assert b"1000 W/m2" in done.stdout
    assert done.stdout.isascii()


def test_half_a_character_in_a_file_name_does_not_stop_the_message() -> None:
    assert fitted("a\udcffb", sys.__stdout__ or sys.stdout).encode("utf-8")
