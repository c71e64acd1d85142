from __future__ import annotations

import json
from dataclasses import replace

from support.records import make_record

from copperpath.report.json import run_json, run_tree


def test_the_document_has_the_keys_of_its_schema() -> None:
    tree = json.loads(run_json(make_record()))
    assert tree["schema"] == "copperpath.run/1"
    assert {"station", "site", "step_s", "cases", "findings", "assumptions"} <= set(tree)
    case = tree["cases"][0]
    assert case["name"] == "base"
    assert {"word", "until", "first_load", "cause"} <= set(case["verdict"])
    terms = ("sources", "loads", "cables", "converters", "storage_loss", "stored_change")
    assert {*terms, "leak", "residual"} <= set(case["ledger_Wh"])
    rig = case["devices"]["rig"]
    assert {"model", "kind", "energy_Wh", "worst_voltage_V", "charge"} <= set(rig)
    assert set(rig["voltage_V"]) == {"min", "mean", "max"}
    assert set(rig["current_A"]) == {"mean", "rms", "max"}
    assert set(case["devices"]["pack"]["charge"]) == {"min", "max", "end"}
    cable = case["cables"][0]
    assert {"name", "from", "to", "resistance_ohm", "loss_Wh", "peak_A"} <= set(cable)
    assert {"worst_drop_V", "worst_drop_percent"} <= set(cable)
    wanted = {"text", "line", "met", "value", "limit", "at"}
    assert wanted <= set(case["requirements"][0])


def test_times_carry_the_station_s_offset() -> None:
    verdict = run_tree(make_record())["cases"][0]["verdict"]
    assert verdict["until"] == "2026-03-30T12:20:00+01:00"


def test_energies_are_in_watt_hours_and_drops_in_percent() -> None:
    case = run_tree(make_record())["cases"][0]
    assert case["devices"]["rig"]["energy_Wh"] == 120.0
    assert abs(case["cables"][0]["worst_drop_percent"] - 0.95) < 1e-12


def test_a_number_that_does_not_exist_is_null() -> None:
    record = make_record()
    ledger = replace(record.base.ledger, residual=float("nan"), leak=float("inf"))
    record = replace(record, cases=(replace(record.base, ledger=ledger),))
    text = run_json(record)
    assert "NaN" not in text
    assert "Infinity" not in text
    case = json.loads(text)["cases"][0]
    assert case["ledger_Wh"]["residual"] is None
    assert case["requirements"][1]["value"] is None
    assert case["requirements"][1]["met"] is None


def test_a_load_has_no_charge() -> None:
    assert run_tree(make_record())["cases"][0]["devices"]["rig"]["charge"] is None
