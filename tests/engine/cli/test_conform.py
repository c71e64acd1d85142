"""`copperpath conform`, as an author of a model would use it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code
from copperpath.report.layout import cells_of

GOOD = """
from copperpath.plugin_api import Model, Parameter, Terminal


class Wire(Model):
    interface = 1
    name = "hot_wire"
    kind = "load"
    summary = "a wire that is warmed"
    leaves_out = "how its resistance rises with warmth"
    parameters = (
        Parameter("ohms", "resistance", "its resistance", required=True, low=0.1,
                  bound_reason="a wire is no short circuit", example="24 ohm"),
    )
    terminals = (Terminal("line", "its supply", main=True),)

    @staticmethod
    def law(v, x, d, p):
        return (v.line / p.ohms,)
"""
BAD = GOOD.replace("(v.line / p.ohms,)", "(abs(v.line) / p.ohms,)")
UNEXPLAINED = GOOD.replace('summary = "a wire that is warmed"', 'summary = ""')


def plugin(text: str, folder: Path) -> str:
    """The path of a plugin file with this text."""
    file = folder / "wire.py"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_a_built_in_model_passes_with_exit_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["conform", "steady", "--draws", "5"]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[0] == "steady (load) conforms"
    assert "no jumps in any voltage" in out
    assert "breach" not in out


def test_a_good_model_of_a_named_file_passes(tmp_path: Path) -> None:
    assert exit_code(["conform", "hot_wire", "--plugin", plugin(GOOD, tmp_path)]) == 0


def test_a_breach_is_told_with_its_inputs_and_exit_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["conform", "hot_wire", "--plugin", plugin(BAD, tmp_path)]) == 1
    out = capsys.readouterr().out
    assert "does NOT conform: 1 check failed" in out.splitlines()[0]
    assert "Breach: it takes power and gives none" in out
    assert "with  load sample : hot_wire { ohms 24 ohm }" in out
    assert "at    v.line = -" in out
    assert "do    a current must have the sign of its voltage" in out


def test_wrong_declarations_are_a_breach_and_not_a_wrong_call(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["conform", "hot_wire", "--plugin", plugin(UNEXPLAINED, tmp_path)]) == 1
    out = capsys.readouterr().out
    assert "`summary` is empty" in out
    assert "not examined" in out


def test_a_model_of_another_version_is_a_breach(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = plugin(GOOD.replace("interface = 1", "interface = 3"), tmp_path)
    assert exit_code(["conform", "hot_wire", "--plugin", path]) == 1
    assert "was written for version 3 of the plugin interface" in capsys.readouterr().out


@pytest.mark.parametrize("text", [GOOD, BAD, UNEXPLAINED])
def test_the_screen_fits_80_columns(
    text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    exit_code(["conform", "hot_wire", "--plugin", plugin(text, tmp_path)])
    assert max(cells_of(line) for line in capsys.readouterr().out.splitlines()) <= 80


def test_an_unknown_model_is_a_wrong_call(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["conform", "stedy"]) == 2
    assert "there is no model `stedy`; did you mean `steady`?" in capsys.readouterr().err


def test_a_file_that_cannot_be_run_is_a_wrong_call(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["conform", "hot_wire", "--plugin", plugin("x = (", tmp_path)]) == 2
    assert "SyntaxError" in capsys.readouterr().err


def test_json_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["conform", "hot_wire", "--plugin", plugin(BAD, tmp_path), "--json"]) == 1
    tree = json.loads(capsys.readouterr().out)
    assert tree["schema"] == "copperpath.conform/1"
    assert tree["passed"] is False
    (breached,) = [check for check in tree["checks"] if check["outcome"] == "breach"]
    assert breached["title"] == "it takes power and gives none"
    assert breached["breaches"][0]["inputs"]["v.line"] < 0.0
