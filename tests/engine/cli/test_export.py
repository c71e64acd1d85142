"""`copperpath export` as a person would use it."""

from __future__ import annotations

from pathlib import Path

import pytest

from copperpath.cli.main import exit_code

HERON_BOG = Path(__file__).parents[3] / "docs" / "stations" / "heron_bog.station"


def exported(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> list[str]:
    """The lines that a good call prints."""
    assert exit_code(["export", str(HERON_BOG), *arguments]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out.splitlines()


def refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What a wrong call is told; nothing of it is on standard output."""
    assert exit_code(["export", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


def test_the_start_is_written_if_no_time_is_given(capsys: pytest.CaptureFixture[str]) -> None:
    lines = exported([], capsys)
    assert lines[0] == "* copperpath: Heron bog, one operator"
    assert lines[1] == "* The step of 60 s from 2026-06-19 08:00:00 +0300 on"
    assert lines[-2:] == [".op", ".end"]


@pytest.mark.parametrize(
    ("time", "written"),
    [
        ("12:30", "2026-06-19 12:30:00"),
        ("2026-06-20 07:05", "2026-06-20 07:05:00"),
        ("2026-6-20  7:05", "2026-06-20 07:05:00"),
        ("2026-06-20 07:05 +03:00", "2026-06-20 07:05:00"),
        ("2026-06-20 04:05 +00:00", "2026-06-20 07:05:00"),
        ("2026-06-20 01:05 −03:00", "2026-06-20 07:05:00"),
    ],
)
def test_a_time_is_read_as_the_language_writes_it(
    time: str, written: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert written in exported(["--at", time], capsys)[1]


@pytest.mark.parametrize(
    "time", ["noon", "25:00", "12:60", "12:30:10", "2026-06-20", "2026-02-30 12:00", "12:30 +03:00"]
)
def test_a_time_that_is_none_is_refused(time: str, capsys: pytest.CaptureFixture[str]) -> None:
    message = refused([str(HERON_BOG), "--at", time], capsys)
    assert "Invalid value for '--at'" in message


def test_an_offset_that_no_clock_has_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    message = refused([str(HERON_BOG), "--at", "2026-06-20 12:00 +99:00"], capsys)
    assert "no clock" in message


def test_a_time_before_the_start_is_told_with_the_run_it_misses(
    capsys: pytest.CaptureFixture[str],
) -> None:
    message = refused([str(HERON_BOG), "--at", "07:59"], capsys)
    assert "outside the run, from 19 June 2026 08:00 to before 22 June 2026 08:00" in message
    assert "a time without a date is on the first day" in message


def test_the_end_is_no_longer_part_of_the_run(capsys: pytest.CaptureFixture[str]) -> None:
    assert "outside the run" in refused([str(HERON_BOG), "--at", "2026-06-22 08:00"], capsys)


def test_a_step_that_does_not_divide_the_run_is_refused(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert "no whole number of steps" in refused([str(HERON_BOG), "--step", "7s"], capsys)


def test_the_worst_instant_has_every_radio_keyed(capsys: pytest.CaptureFixture[str]) -> None:
    line = exported(["--column", "worst"], capsys)[2]
    assert line.startswith("* Worst instant")
    assert line.endswith("rig 1")


def test_a_file_is_written_in_place_of_what_it_holds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "bog.cir"
    output.write_text("old")
    assert exported(["-o", str(output)], capsys) == []
    assert output.read_text().startswith("* copperpath: Heron bog")


@pytest.mark.parametrize("name", [".", "missing/bog.cir"])
def test_a_place_that_cannot_be_written_is_told_before_the_run(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    message = refused([str(HERON_BOG), "-o", str(tmp_path / name)], capsys)
    assert "cannot be written" in message


def test_a_file_with_mistakes_is_told_like_anywhere(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "wrong.station"
    file.write_text(HERON_BOG.read_text().replace("capacity 12 Ah", "capacity 12 A"))
    assert "nothing was run" in refused([str(file)], capsys)


def test_a_model_that_no_formula_can_say_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plugin = tmp_path / "odd.py"
    plugin.write_text(
        "from copperpath.plugin_api import Model, Terminal\n"
        "import numpy as np\n\n\n"
        "class Odd(Model):\n"
        "    name = 'odd'\n"
        "    kind = 'load'\n"
        "    interface = 1\n"
        "    summary = 'a load that counts'\n"
        "    terminals = (Terminal('line', 'its supply', main=True),)\n\n"
        "    @staticmethod\n"
        "    def law(v, x, d, p):\n"
        "        return (1e-6 * np.tanh(v.line),)\n"
    )
    file = tmp_path / "odd.station"
    more = (
        "load odd : odd {}\ncable strip.3 -> odd { length 1 m; wire 1.5 mm2; fuse 3 A at strip }\n"
    )
    file.write_text(HERON_BOG.read_text() + more)
    message = refused([str(file), "--plugin", str(plugin)], capsys)
    assert "`odd` (model `odd`): a law may not use `np.tanh`" in message
