"""`copperpath check` and `copperpath wire` as a person meets them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from copperpath.cli.main import exit_code

GOLDEN = Path(__file__).parent / "golden"
SITE = """station "Hut" {
    place 61.50 N, 24.10 E
    starts 2026-06-19 08:00 +03:00
    lasts 48 h
    sky clear
    air 6 degC .. 21 degC
    confirm "lightning", "we leave"
    confirm "holders-tested", "on 12 June"
}
"""
FAULTY = (
    SITE
    + """storage pack : lfp { cells 4; capacity 50 Ah }
block strip : strip { ways 4; rating 30 A }
load rig : transceiver { receive 1 A; transmit 20 A; transmitting 10 %; works 11.7 V .. 15.8 V }
load lamp : steady { power 6 W; on 20:00 to 23:00 }
cable pack -> strip.in { length 1.5 m; wire 6 mm2; fuse 40 A at pack within 100 mm }
cable strip.1 -> rig { length 4 m; wire 4 mm2; fuse 25 A at strip }
cable strip.2 -> lamp { length 6 m; wire 0.75 mm2 }
"""
)
MENDED = (
    FAULTY.replace("wire 6 mm2; fuse 40 A", "wire 35 mm2; fuse_kind bolt_down; fuse 30 A")
    .replace("4 m; wire 4 mm2", "1 m; wire 16 mm2")
    .replace("works 11.7 V", "works 10 V")
    .replace("wire 0.75 mm2", "wire 0.75 mm2; fuse 3 A at strip")
)


def written(text: str, folder: Path) -> str:
    file = folder / "hut.station"
    file.write_text(text, encoding="utf-8")
    return str(file)


def golden(name: str, printed: str) -> None:
    """Held against a screen that somebody has read."""
    assert printed == (GOLDEN / name).read_text(encoding="utf-8")
    assert max(len(line) for line in printed.splitlines()) <= 80


def findings(text: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    exit_code(["check", "--json", written(text, folder)])
    return json.loads(capsys.readouterr().out)


def test_the_screen_of_check_fits_eighty_columns_and_says_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["check", written(FAULTY, tmp_path)]) == 1
    out = capsys.readouterr().out
    golden("check.txt", out[: out.index("\nAssumed")])


def test_the_screen_of_wire_fits_eighty_columns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["wire", written(FAULTY, tmp_path)]) == 1
    golden("wire.txt", capsys.readouterr().out)


def test_the_screen_of_one_cable_fits_eighty_columns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["wire", written(FAULTY, tmp_path), "strip.1 -> rig"]) == 1
    golden("one_cable.txt", capsys.readouterr().out)


def test_a_mended_station_exits_0_from_both(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = written(MENDED, tmp_path)
    assert exit_code(["check", file]) == 0, capsys.readouterr().out
    assert exit_code(["wire", file]) == 0, capsys.readouterr().out


def test_a_danger_that_is_accepted_exits_0_and_is_shown_with_its_reason(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    thin = MENDED.replace("; fuse 3 A at strip", "")
    assert exit_code(["check", written(thin, tmp_path)]) == 1
    capsys.readouterr()
    accepted = thin.replace(
        "wire 0.75 mm2", 'wire 0.75 mm2; accept "wire-is-the-fuse", "gone soon"'
    )
    assert exit_code(["check", written(accepted, tmp_path)]) == 0
    out = capsys.readouterr().out
    assert "Let stand by the author, with the reason\n  DANGER" in out
    assert "let stand: gone soon" in out


def test_accepting_one_finding_leaves_another_one_counted(tmp_path: Path) -> None:
    accepted = FAULTY.replace("wire 0.75 mm2", 'wire 0.75 mm2; accept "wire-is-the-fuse", "soon"')
    assert exit_code(["check", written(accepted, tmp_path)]) == 1


@pytest.mark.parametrize("command", ["check", "wire"])
def test_a_file_with_mistakes_exits_2(command: str, tmp_path: Path) -> None:
    assert exit_code([command, written(FAULTY.replace("6 W", "6 V"), tmp_path)]) == 2


def test_a_rule_that_there_is_not_cannot_be_accepted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = FAULTY.replace("wire 0.75 mm2", 'wire 0.75 mm2; accept "wire-is-a-fuse", "soon"')
    assert exit_code(["check", written(text, tmp_path)]) == 2
    assert "wire-is-the-fuse" in capsys.readouterr().err


def test_a_cable_that_there_is_not_is_named_with_the_nearest(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["wire", written(FAULTY, tmp_path), "strip.1->rig"]) == 2
    assert 'did you mean "strip.1 -> rig"?' in capsys.readouterr().err


def test_every_finding_of_the_document_has_the_keys_of_its_schema(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tree = findings(FAULTY, tmp_path, capsys)
    assert tree["schema"] == "copperpath.check/1"
    assert tree["findings"]
    words = {"level", "rule", "message", "subject", "remedy", "yields", "limit_from", "unit"}
    for each in tree["findings"]:
        assert set(each) == {*words, "file", "line", "value", "limit", "accepted", "open"}
        assert all(isinstance(each[word], str) for word in (*words, "accepted"))
        assert isinstance(each["open"], bool)
        for figure in (each["value"], each["limit"]):
            assert figure is None or isinstance(figure, float)


def test_the_document_has_the_figures_and_the_reason_of_an_accepted_finding(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = FAULTY.replace("wire 0.75 mm2", 'wire 0.75 mm2; accept "wire-is-the-fuse", "soon"')
    tree = findings(text, tmp_path, capsys)
    (thin,) = [each for each in tree["findings"] if each["rule"] == "wire-is-the-fuse"]
    assert (thin["subject"], thin["value"], thin["unit"]) == ("strip.2 -> lamp", 40.0, "A")
    assert thin["limit"] < 40.0
    assert thin["accepted"] == "soon"


def test_a_broken_rule_of_a_package_is_named_and_exits_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    info = tmp_path / "hill_rules-1.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: hill-rules\nVersion: 1\n")
    (info / "entry_points.txt").write_text("[copperpath.rules]\nhill = hill_rules:Hill\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    assert exit_code(["check", written(FAULTY, tmp_path)]) == 2
    assert "rule `hill` from hill-rules: cannot be loaded" in capsys.readouterr().err


@pytest.mark.parametrize("options", [[], ["--json"]], ids=["screen", "document"])
def test_check_needs_none_of_the_libraries_that_take_long_to_load(
    options: list[str], tmp_path: Path
) -> None:
    code = (
        "import sys\n"
        "from copperpath.cli.main import exit_code\n"
        f"exit_code(['check', *{options!r}, {written(FAULTY, tmp_path)!r}])\n"
        "print(*[n for n in ('pandas', 'pvlib', 'numba', 'scipy') if n in sys.modules])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True
    )
    assert done.stdout.splitlines()[-1] == ""
