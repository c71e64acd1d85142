"""The coldest air on record, against the wiring rules' way of reckoning a panel's voltage in it."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.runs import STATIONS, record_of

from copperpath.record.record import Record

SITE = """station "Post" {{
    place  41.29 S, 174.78 E, 90 m
    starts 2026-06-12 10:00 +12:00
    lasts  2 h
    sky    clear
    air    4 degC .. 12 degC
    {record}
}}
"""
REST = """
source    panels    : photovoltaic {{
    power 110 W; vmp 20.2 V; voc 24.6 V; isc 5.9 A; series 2; mount 60 deg, north
    voc_coefficient -0.28 %/K; derate 80 %
}}
converter regulator : mppt_charger {{ output_limit 20 A; max_input {most} V }}
storage   pack      : lfp {{ capacity 100 Ah; charge 50 % }}
load      lamp      : steady {{ power 6 W }}
cable panels            -> regulator.panel {{ length 8 m; wire 4 mm2 }}
cable regulator.battery -> pack {{ length 0.5 m; wire 6 mm2; fuse 30 A at pack }}
cable pack              -> lamp {{ length 2 m; wire 1.5 mm2; fuse 3 A at pack }}
"""
RULE = "panel-side-over-limit"


def run(folder: Path, record: str, most: float) -> Record:
    path = folder / "post.station"
    path.write_text(SITE.format(record=record) + REST.format(most=most), encoding="utf-8")
    return record_of(path, causes_of=frozenset())


def messages(record: Record) -> list[str]:
    return [each.message for each in record.findings if each.rule == RULE]


def test_a_controller_for_50_volts_is_in_danger_at_the_record_low(tmp_path: Path) -> None:
    # 2 x 24.6 V at 25 degC, 0.28 % more for each of 27 K: 52.9 V.
    record = run(tmp_path, "record_low -2 degC", 50)
    (finding,) = (each for each in record.findings if each.rule == RULE)
    assert finding.level.value == "danger"
    assert float(finding.message.split(" V ")[0].split()[-1]) == pytest.approx(52.9, abs=0.3)


def test_the_same_days_without_a_record_low_do_not_reach_the_limit(tmp_path: Path) -> None:
    record = run(tmp_path, "", 50)
    assert messages(record) == []
    (said,) = (each for each in record.base.assumptions if each.parameter == "record_low")
    assert "coldest air of the run" in said.basis


def test_a_controller_for_100_volts_passes_at_the_record_low(tmp_path: Path) -> None:
    record = run(tmp_path, "record_low -2 degC", 100)
    assert messages(record) == []
    assert not [each for each in record.base.assumptions if each.parameter == "record_low"]


@pytest.mark.parametrize(("celsius", "factor"), [(-10, 1.098), (-30, 1.154)])
def test_colder_records_give_the_voltage_of_the_coefficient(
    tmp_path: Path, celsius: int, factor: float
) -> None:
    # 1 + 0.0028 (25 - celsius), the manufacturer's coefficient as NFPA 70, 690.7 has it used.
    (message,) = messages(run(tmp_path, f"record_low {celsius} degC", 50))
    volts = float(message.split(" V ")[0].split()[-1])
    assert volts == pytest.approx(49.2 * factor, rel=0.01)


def test_harbour_hill_would_destroy_a_controller_for_50_volts(tmp_path: Path) -> None:
    folder = STATIONS / "harbour_hill"
    text = (folder / "harbour_hill.station").read_text(encoding="utf-8")
    lines = text[: text.index("# ---- what if")].splitlines()
    text = "\n".join(line for line in lines if " in case " not in line)
    (tmp_path / "sun.csv").write_bytes((folder / "sun.csv").read_bytes())
    for most, found in ((50, 1), (100, 0)):
        path = tmp_path / f"for_{most}.station"
        path.write_text(text.replace("max_input 100 V", f"max_input {most} V"), encoding="utf-8")
        assert len(messages(record_of(path, causes_of=frozenset()))) == found
