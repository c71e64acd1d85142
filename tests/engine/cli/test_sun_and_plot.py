"""`copperpath sun`, and pictures from the command line."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from support.small_station import LAMP, LAMP_LEAD, PANEL, small_text

from copperpath.cli.main import exit_code
from copperpath.report.layout import WIDTH, cells_of

FED = small_text(PANEL + LAMP + LAMP_LEAD, capacity="12 Ah", lasts="6 h")
CASES = FED + 'case "two lamps" { change lamp { current 1 A } }\n'


def written(text: str, folder: Path) -> str:
    """The path of a station file with this text."""
    file = folder / "my.station"
    file.write_text(text, encoding="utf-8")
    return str(file)


def refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What is said on a call that is refused with 2."""
    assert exit_code(arguments) == 2
    return " ".join(capsys.readouterr().err.split())


def test_the_table_fits_80_columns(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["sun", written(FED, tmp_path)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(cells_of(line) for line in lines) <= WIDTH
    months = "hour Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec"
    assert months in [" ".join(line.split()) for line in lines]


def test_a_day_has_a_column_for_each_sky(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    half = FED.replace("sky clear", "sky 50 % of clear")
    assert exit_code(["sun", written(half, tmp_path), "--day", "2026-06-20"]) == 0
    out = capsys.readouterr().out
    assert "20 June 2026" in out
    assert "  hour         clear  overcast  file's sky" in out


def test_json_has_the_hours_of_each_month(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["sun", written(FED, tmp_path), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["schema"] == "copperpath.sun/1"
    amps = document["panels"][0]["amps_by_day_and_hour_A"]["clear"]
    assert [len(day) for day in amps] == [24] * 12
    day = document["panels"][0]["per_day_Ah"]["clear"]
    assert day == pytest.approx([sum(hours) for hours in amps], abs=2e-3)


@pytest.mark.parametrize("words", ["yesterday", "2026-02-30", "0026-02-03", "20.6.2026"])
def test_what_is_no_day_is_refused(
    words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = refused(["sun", written(FED, tmp_path), "--day", words], capsys)
    assert words in said
    assert "2026-06-20" in said or "between 1950 and 2100" in said


def test_a_station_without_panels_is_told_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "no panel" in refused(["sun", written(small_text(), tmp_path)], capsys)


def test_a_file_with_mistakes_has_no_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = refused(["sun", written(FED.replace("mount flat", ""), tmp_path)], capsys)
    assert "1 mistake" in said


@pytest.mark.parametrize("command", ["run", "sun"])
@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_a_picture_is_written(
    command: str, ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture = tmp_path / f"out.{ending}"
    call = [command, written(FED, tmp_path), "--plot", str(picture)]
    assert exit_code(call) == 0, capsys.readouterr().err
    begins = {"svg": b"<?xml", "png": b"\x89PNG", "pdf": b"%PDF"}
    assert picture.read_bytes().startswith(begins[ending])


@pytest.mark.parametrize("command", ["run", "sun"])
def test_an_unknown_ending_is_refused_before_anything_is_worked_out(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture = str(tmp_path / "out.gif")
    said = refused([command, written(FED, tmp_path), "--plot", picture], capsys)
    assert "`.gif`; a picture is written as .svg, .png or .pdf" in said


@pytest.mark.parametrize("command", ["run", "sun"])
def test_a_missing_folder_is_refused(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture = str(tmp_path / "gone" / "out.svg")
    said = refused([command, written(FED, tmp_path), "--plot", picture], capsys)
    assert "does not exist; make it first" in said


def test_a_case_is_drawn_in_place_of_the_station(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = written(CASES, tmp_path)
    for name, more in (("base.svg", []), ("case.svg", ["--case", "two lamps"])):
        assert exit_code(["run", file, "--plot", str(tmp_path / name), *more]) in (0, 1)
    base, case = ((tmp_path / name).read_text() for name in ("base.svg", "case.svg"))
    # Letters are outlines, and their text stands beside them as a remark.
    assert '<!-- Small, case "two lamps" -->' in case
    assert "two lamps" not in base


def test_a_run_without_a_picture_does_not_load_matplotlib(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from copperpath.cli.main import exit_code\n"
        f"assert exit_code(['run', {written(FED, tmp_path)!r}]) in (0, 1)\n"
        "assert exit_code(['sun', sys.argv[1]]) == 0\n"
        "assert 'matplotlib' not in sys.modules\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "my.station")],
        capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
