"""The screens of `check` and `wire`, their exit codes, and what `check` prints for programs.

COPPERPATH_UPDATE_CASES=1 takes the kept screens anew; read them before committing.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from support.pages import alike

from copperpath.cli.main import exit_code
from copperpath.report.layout import cells_of

GOLDEN = Path(__file__).parent / "golden"
TWO_RADIOS = GOLDEN / "two_radios.station"
SCREENS = {
    "check": ["check"],
    "wire": ["wire"],
    "wire_one_cable": ["wire", "pack -> hf"],
}
IN_ORDER = """
station "One radio, all in order" {
    place 47.4 N, 9.35 E, 600 m; starts 2026-05-15 06:00 +02:00; lasts 6 h
    sky clear; air 6 degC .. 18 degC
    confirm "lightning", "the antenna comes down and we leave"
    confirm "holders-tested", "each fuse pulled, 0 V behind it"
}
storage pack : lfp {
    capacity 12 Ah
    accept "locked-out", "somebody is there all day"
    accept "mass-and-flight", "it goes by car"
}
load rig : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 %; works 10.5 V .. 15 V }
cable pack -> rig { length 1 m; wire 1.5 mm2; fuse 5 A at pack within 100 mm; fuse_kind blade }
"""
GENERATOR = """
source engine : generator { rating 1 kW; on 08:00 to 10:00; tank 1 gal }
load kettle : mains_load { power 500 W; on 08:00 to 10:00 }
cable engine.output -> kettle { length 10 m; wire 1.5 mm2 }
cable engine.sense -> pack { length 10 m; wire 0.75 mm2; fuse 3 A at pack within 90 mm }
"""


def written(text: str, folder: Path) -> str:
    """The path of a station file with this text."""
    file = folder / "my.station"
    file.write_text(text, encoding="utf-8")
    return str(file)


def findings(text: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    """What `check --json` finds in a text."""
    assert exit_code(["check", written(text, folder), "--json"]) in (0, 1)
    found: list[dict[str, Any]] = json.loads(capsys.readouterr().out)["findings"]
    return found


@pytest.mark.parametrize("name", SCREENS)
def test_the_screen_is_the_kept_one(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    command, *cable = SCREENS[name]
    assert exit_code([command, str(TWO_RADIOS), *cable]) == 1
    printed = capsys.readouterr().out
    kept = GOLDEN / f"{name}.txt"
    if os.environ.get("COPPERPATH_UPDATE_CASES"):
        kept.write_text(printed, encoding="utf-8")
    assert alike(kept.read_text(encoding="utf-8"), printed), printed
    assert max(cells_of(line) for line in printed.splitlines()) <= 80


def test_check_exits_0_where_nothing_stands(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["check", written(IN_ORDER, tmp_path)]) == 0
    assert "no finding stands; 2 let stand by the author." in capsys.readouterr().out


def test_check_exits_0_where_only_a_warning_stands(tmp_path: Path) -> None:
    text = IN_ORDER.replace(" within 100 mm", "")
    assert exit_code(["check", written(text, tmp_path)]) == 0


def test_check_exits_1_where_a_danger_stands(tmp_path: Path) -> None:
    text = IN_ORDER.replace("within 100 mm", "within 400 mm")
    assert exit_code(["check", written(text, tmp_path)]) == 1


def test_a_danger_that_is_accepted_does_not_count(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    accepted = 'within 400 mm; accept "battery-fuse-near", "it sits in the case"'
    text = IN_ORDER.replace("within 100 mm", accepted)
    assert exit_code(["check", written(text, tmp_path)]) == 0
    assert "let stand: it sits in the case" in capsys.readouterr().out


def test_check_exits_2_where_an_unknown_rule_is_accepted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = IN_ORDER.replace('"locked-out"', '"locked-in"')
    assert exit_code(["check", written(text, tmp_path)]) == 2
    assert "`accept` does not know `locked-in`" in capsys.readouterr().err


def test_the_question_about_exhaust_counts_until_it_is_answered(tmp_path: Path) -> None:
    assert exit_code(["check", written(IN_ORDER + GENERATOR, tmp_path)]) == 1
    answer = '; confirm "exhaust-outdoors", "behind the hut, 9 m away"'
    answered = GENERATOR.replace("tank 1 gal", f"tank 1 gal{answer}")
    assert exit_code(["check", written(IN_ORDER + answered, tmp_path)]) == 0


def test_wire_exits_0_where_every_cable_has_what_it_wants(tmp_path: Path) -> None:
    assert exit_code(["wire", written(IN_ORDER, tmp_path)]) == 0


def test_wire_exits_2_for_a_cable_there_is_not_and_names_the_nearest(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["wire", written(IN_ORDER, tmp_path), "pack -> rog"]) == 2
    assert 'did you mean "pack -> rig"?' in capsys.readouterr().err


def test_a_finding_as_json_has_its_figure_its_limit_and_what_the_remedy_yields(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = IN_ORDER.replace("within 100 mm", "within 400 mm")
    (found,) = [
        each for each in findings(text, tmp_path, capsys) if each["rule"] == "battery-fuse-near"
    ]
    assert found["level"] == "danger"
    assert found["subject"] == "pack -> rig"
    assert found["line"] == 14
    assert (found["value"], found["limit"], found["unit"]) == (400.0, 180.0, "mm")
    assert found["yields"] == "180 mm, limit 180 mm"
    assert found["limit_from"].startswith("published: ABYC E-11")
    assert found["accepted"] == ""
    assert found["open"] is False


def test_as_json_a_finding_that_stands_accepted_carries_the_reason(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = {each["rule"]: each["accepted"] for each in findings(IN_ORDER, tmp_path, capsys)}
    assert told == {
        "locked-out": "somebody is there all day",
        "mass-and-flight": "it goes by car",
    }


def test_a_question_without_an_answer_is_open_in_the_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = IN_ORDER.replace('    confirm "lightning", "the antenna comes down and we leave"\n', "")
    told = {each["rule"]: each["open"] for each in findings(text, tmp_path, capsys)}
    assert told == {"locked-out": False, "mass-and-flight": False, "lightning": True}


def test_accepting_what_is_not_found_is_a_warning(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = IN_ORDER.replace("fuse_kind blade", 'fuse_kind blade; accept "line-drop", "half power"')
    (found,) = [each for each in findings(text, tmp_path, capsys) if not each["accepted"]]
    assert (found["level"], found["rule"]) == ("warn", "accepted-nothing")
    assert found["message"] == "`line-drop` is accepted at `pack -> rig`, but finds nothing there"
    assert found["line"] == 14


def test_answering_a_question_that_no_rule_asks_is_a_warning_that_lists_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = IN_ORDER.replace('confirm "lightning"', 'confirm "thunder", "yes"; confirm "lightning"')
    (found,) = [each for each in findings(text, tmp_path, capsys) if not each["accepted"]]
    assert (found["level"], found["rule"]) == ("warn", "confirmed-nothing")
    assert found["message"].startswith('no rule asks "thunder"; asked are "converters-filtered", ')


def test_what_a_device_accepts_does_not_speak_for_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    second = (
        "storage other : lfp { capacity 12 Ah }\n"
        "load lamp : steady { power 2 W }\n"
        "cable other -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at other within 90 mm }\n"
    )
    told = findings(IN_ORDER + second, tmp_path, capsys)
    left = [
        each["subject"] for each in told if each["rule"] == "locked-out" and not each["accepted"]
    ]
    assert left == ["other"]
