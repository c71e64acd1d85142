"""`copperpath draw` as a person would use it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code

STATIONS = Path(__file__).parents[3] / "docs" / "stations"
HERON_BOG = STATIONS / "heron_bog.station"
HARBOUR_HILL = STATIONS / "harbour_hill" / "harbour_hill.station"


def refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What a wrong call is told; nothing of it is on standard output."""
    assert exit_code(["draw", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    return err


@pytest.mark.parametrize(
    ("suffix", "begins"), [("svg", b"<?xml"), ("png", b"\x89PNG"), ("PDF", b"%PDF")]
)
def test_the_ending_says_as_what_it_is_written(
    suffix: str, begins: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / f"drawn.{suffix}"
    assert exit_code(["draw", str(HERON_BOG), "-o", str(path)]) == 0
    assert path.read_bytes().startswith(begins)
    out, err = capsys.readouterr()
    assert out.startswith(f"{path}: one-line diagram on A4, letters of ")
    assert err == ""


def test_a_case_is_drawn_with_its_devices(tmp_path: Path) -> None:
    path = tmp_path / "drawn.svg"
    call = ["draw", str(HARBOUR_HILL), "-o", str(path), "--case", "vehicle instead"]
    assert exit_code(call) == 0
    assert "device_alternator" in path.read_text(encoding="utf-8")
    assert "device_engine" not in path.read_text(encoding="utf-8")


def test_a_case_that_is_not_there_is_told_with_those_that_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "drawn.svg"
    message = refused([str(HARBOUR_HILL), "-o", str(path), "--case", "sun onl"], capsys)
    assert 'did you mean "sun only"?' in message
    assert not path.exists()


@pytest.mark.parametrize("name", ["drawn.gif", "drawn", "drawn.svg.txt"])
def test_an_ending_that_is_not_known_is_refused_with_those_that_are(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    message = refused([str(HERON_BOG), "-o", str(tmp_path / name)], capsys)
    assert "a picture is written as .svg, .png or .pdf" in message


def test_a_folder_that_is_not_there_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "nowhere" / "drawn.svg"
    message = refused([str(HERON_BOG), "-o", str(path)], capsys)
    assert message == f"the folder {path.parent} does not exist; make it first\n"


def test_a_name_that_cannot_be_written_is_told_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / ("n" * 300 + ".svg")
    message = refused([str(HERON_BOG), "-o", str(path)], capsys)
    assert message == f"{path} cannot be written: File name too long\n"


def test_mistakes_in_the_file_are_told_and_nothing_is_drawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, path = tmp_path / "wrong.station", tmp_path / "drawn.svg"
    file.write_text(HERON_BOG.read_text(encoding="utf-8").replace("12 Ah", "12 V"), "utf-8")
    assert "1 mistake" in refused([str(file), "-o", str(path)], capsys)
    assert not path.exists()


def test_other_commands_load_nothing_that_draws() -> None:
    code = (
        "import sys\n"
        "from copperpath.cli.main import exit_code\n"
        f"exit_code(['check', {str(HERON_BOG)!r}])\n"
        "print('matplotlib' in sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "False"
