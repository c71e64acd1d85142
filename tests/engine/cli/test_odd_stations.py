"""Stations that nobody builds: `check`, `wire` and `draw` answer in words, 80 columns wide."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code

SITE = """station "Odd" {
    place 61.50 N, 24.10 E
    starts 2026-06-19 08:00 +03:00
    lasts 24 h
    sky clear
    air 6 degC .. 21 degC
}
"""
PACK = "storage pack : lfp { capacity 20 Ah }\n"
RIG = "load rig : transceiver { receive 0.3 A; transmit 6 A; transmitting 10 % }\n"
LEAD = "{ length 1 m; wire 1.5 mm2 }\n"
PANEL = "source sun : photovoltaic { power 100 W; vmp 18 V; voc 22 V; isc 6 A; mount flat }\n"
STRIPS = "block s : strip { ways 3; rating 30 A }\nblock t : strip { ways 3; rating 30 A }\n"
ODD = {
    "nothing at all": "",
    "strips alone": STRIPS + f"cable s.1 -> t.in {LEAD}",
    "no storage": "source bench : supply { voltage 13.8 V; limit 20 A }\n"
    + RIG
    + f"cable bench -> rig {LEAD}",
    "mains alone": "source engine : generator { rating 1 kW; on 08:00 to 12:00; tank 4 L }\n"
    "load kettle : mains_load { power 500 W }\n"
    + f"cable engine.sense -> kettle {LEAD}cable engine.output -> kettle {LEAD}",
    "ring": PACK
    + RIG
    + STRIPS
    + f"cable pack -> s.in {LEAD}cable s.1 -> t.in {LEAD}cable s.2 -> t.1 {LEAD}"
    + f"cable t.2 -> rig {LEAD}cable s.3 -> rig {LEAD}",
    "cable onto its own strip": PACK
    + RIG
    + STRIPS
    + f"cable pack -> s.in {LEAD}cable s.1 -> s.2 {LEAD}cable s.3 -> rig {LEAD}"
    + f"cable t.in -> s.in {LEAD}",
    "cables without data": PACK + RIG + "cable pack -> rig { }\n",
    "no loads": PACK + PANEL + f"cable sun -> pack {LEAD}",
    "panel on a radio": PANEL + RIG + f"cable sun -> rig {LEAD}",
    "controller without battery": PANEL
    + RIG
    + "converter charge : mppt_charger { output_limit 5 A; max_input 30 V }\n"
    + f"cable sun -> charge.panel {LEAD}cable charge.battery -> rig {LEAD}",
    "two batteries on a stub": PACK
    + "storage spare : lead_acid { capacity 100 Ah }\n"
    + "cable pack -> spare { length 10 mm; wire 120 mm2 }\n",
    "12 V on 24 V": PACK
    + "storage spare : lfp { cells 8; capacity 100 Ah }\n"
    + f"cable pack -> spare {LEAD}",
    "more than any wire carries": PACK
    + "load heat : steady { power 5 kW }\ncable pack -> heat { length 100 m; wire 24 AWG }\n",
    "an hour's milliampere": "storage pack : lfp { capacity 1 mAh }\n"
    + RIG
    + "cable pack -> rig { length 1 mm; wire 36 AWG; fuse 0.001 A at pack }\n",
    "array": PACK
    + "load lamp[3] : steady { power 2 W }\nblock s : strip { ways 3; rating 20 A }\n"
    + f"cable pack -> s.in {LEAD}cable s.[1..3] -> lamp[1..3] {LEAD}",
    "kit": "assembly desk(watts) {\n"
    "    load lamp : steady { power watts }\n    block s : strip { ways 2; rating 10 A }\n"
    f"    cable s.1 -> lamp {LEAD}    expose in -> s.in\n}}\n"
    + PACK
    + f"kit desk[2] : desk {{ watts 5 W }}\ncable pack -> desk[1..2].in {LEAD}",
}


def written(name: str, folder: Path) -> str:
    file = folder / "odd.station"
    file.write_text(SITE + ODD[name], encoding="utf-8")
    return str(file)


def narrow(text: str, folder: Path) -> None:
    """No line is wider than a screen, but for the path of the file."""
    for line in text.replace(str(folder), "").splitlines():
        assert len(line) <= 80, line


@pytest.mark.parametrize("name", list(ODD))
def test_check_answers_about_an_odd_station(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["check", written(name, tmp_path)]) in (0, 1)
    out, err = capsys.readouterr()
    narrow(out + err, tmp_path)
    assert "nan" not in out.split()


@pytest.mark.parametrize("name", list(ODD))
def test_the_document_of_an_odd_station_holds_no_figure_that_is_none(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["check", "--json", written(name, tmp_path)]) in (0, 1)

    def refuse(word: str) -> None:
        raise AssertionError(word)

    assert json.loads(capsys.readouterr().out, parse_constant=refuse)["errors"] == []


@pytest.mark.parametrize("name", list(ODD))
def test_wire_answers_about_an_odd_station_or_says_why_not(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = exit_code(["wire", written(name, tmp_path)])
    out, err = capsys.readouterr()
    narrow(out + err, tmp_path)
    assert code in (0, 1) or (code == 2 and "no operating point was found" in err)


@pytest.mark.parametrize("name", list(ODD))
def test_an_odd_station_can_be_drawn(name: str, tmp_path: Path) -> None:
    picture = tmp_path / "odd.svg"
    assert exit_code(["draw", written(name, tmp_path), "-o", str(picture)]) == 0
    assert picture.stat().st_size > 0


@pytest.mark.parametrize("name", ["nothing at all", "strips alone"])
def test_a_station_in_which_nothing_gives_or_takes_is_not_run(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["run", written(name, tmp_path)]) == 2
    assert "nothing in the station gives or takes power" in capsys.readouterr().err
