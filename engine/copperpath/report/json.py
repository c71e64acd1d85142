"""Runs, checks and examinations as JSON, for programs: schemas `copperpath.run/1`,
`copperpath.check/1` and `copperpath.conform/1`.

docs/results.md describes every key. Keys may be added within a version, never changed. A number
that does not exist is null; NaN and infinities never appear.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

from copperpath.finding import Finding
from copperpath.record.record import (
    Band,
    CableFigures,
    Case,
    DeviceFigures,
    Ledger,
    Record,
    Required,
    RequirementResult,
    Verdict,
)
from copperpath.station import Assumption, SiteSettings, Station
from copperpath_grammar.source import Span

if TYPE_CHECKING:
    # Examining models needs the compiler, which takes long to load.
    from copperpath.conformance.breach import Examination

RUN_SCHEMA = "copperpath.run/1"
CHECK_SCHEMA = "copperpath.check/1"
CONFORM_SCHEMA = "copperpath.conform/1"
WH = 1.0 / 3600.0


def run_json(record: Record) -> str:
    """A record as one JSON document, schema `copperpath.run/1`."""
    return _text(run_tree(record))


def check_json(
    file: str,
    errors: Sequence[Mapping[str, Any]],
    findings: Sequence[Finding],
    assumptions: Sequence[Assumption],
    station: Station | None = None,
) -> str:
    """What `check` found, schema `copperpath.check/1`; `errors` are rendered diagnostics, and
    `station` is None if there are any."""
    return _text(
        {
            "schema": CHECK_SCHEMA,
            "file": file,
            "errors": list(errors),
            "findings": [_finding(finding) for finding in findings],
            "assumptions": [_assumption(each) for each in assumptions],
            **({} if station is None else {"cases": _titles(station), **_joined(station)}),
        }
    )


def _titles(station: Station) -> list[dict[str, Any]]:
    return [{"name": each.title, "changes": list(each.changes)} for each in station.cases]


def conform_json(examination: Examination) -> str:
    """What the conformance suite found on a model, schema `copperpath.conform/1`."""
    return _text(
        {
            "schema": CONFORM_SCHEMA,
            "model": examination.model,
            "kind": examination.kind,
            "passed": examination.passed,
            "seed": examination.seed,
            "devices": examination.devices,
            "refused": examination.refused,
            "checks": [
                {
                    "title": outcome.title,
                    "outcome": "skipped" if outcome.word == "-" else outcome.word,
                    "skipped": outcome.skipped,
                    "breaches": [
                        {
                            "wrong": breach.wrong,
                            "remedy": breach.remedy,
                            "device": breach.device,
                            "inputs": {name: _number(value) for name, value in breach.inputs},
                        }
                        for breach in outcome.breaches
                    ],
                }
                for outcome in examination.outcomes
            ],
        }
    )


def run_tree(record: Record) -> dict[str, Any]:
    """The document of `run_json` as plain dicts, lists, texts and numbers."""
    return {
        "schema": RUN_SCHEMA,
        "station": record.station.title,
        "file": record.station.source.name,
        "site": _site(record.station.site),
        "step_s": record.step_s,
        "cases": [_case(case) for case in record.cases],
        "requirements": [_required(each) for each in record.requirements],
        "band": None if record.band is None else _band(record.band),
        "findings": [_finding(finding) for finding in record.findings],
        "assumptions": [_assumption(each) for each in record.assumptions],
        **_joined(record.station),
        "provenance": dict(record.provenance),
    }


def _text(tree: dict[str, Any]) -> str:
    return json.dumps(tree, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _number(value: float | None, factor: float = 1.0) -> float | None:
    if value is None or not math.isfinite(value):
        return None
    return float(value) * factor


def _time(when: datetime | None) -> str | None:
    return None if when is None else when.isoformat(timespec="seconds")


def _site(site: SiteSettings) -> dict[str, Any]:
    return {
        "latitude_deg": site.latitude_deg,
        "longitude_deg": site.longitude_deg,
        "altitude_m": site.altitude_m,
        "starts": _time(site.starts),
        "lasts_s": site.lasts_s,
        "air_low_K": site.air_low_k,
        "air_high_K": site.air_high_k,
        "air_by_month_K": {str(month): list(ends) for month, ends in site.air_by_month.items()},
        "record_low_K": site.record_low_k,
        "repeats": site.repeats,
    }


def _case(case: Case) -> dict[str, Any]:
    return {
        "name": case.name,
        "changes": list(case.changes),
        "site": _site(case.station.site),
        "verdict": _verdict(case.verdict),
        "ledger_Wh": _ledger(case.ledger),
        "devices": {device.name: _device(device) for device in case.devices},
        "cables": [_cable(cable) for cable in case.cables],
        "requirements": [_requirement(result) for result in case.requirements],
        "low_corner": [
            {
                "device": figure.device,
                "voltage_V": _number(figure.voltage_v),
                "needs_V": _number(figure.needs_v),
            }
            for figure in case.low_corner
        ],
        "high_corner": [
            {
                "device": figure.device,
                "voltage_V": _number(figure.voltage_v),
                "takes_V": _number(figure.takes_v),
            }
            for figure in case.high_corner
        ],
        "outcomes": {name: int(count) for name, count in case.outcomes.items()},
        "findings": [_finding(finding) for finding in case.findings],
        "assumptions": [_assumption(each) for each in case.assumptions],
    }


def _required(each: Required) -> dict[str, Any]:
    return {
        **_requirement(each.worst),
        "case": each.case,
        "judged": list(each.judged),
        "missed": list(each.missed),
        "at_unfavourable_end": None if each.at_low is None else _requirement(each.at_low),
    }


def _band(band: Band) -> dict[str, Any]:
    return {
        "low": None if band.low is None else _verdict(band.low.verdict),
        "high": None if band.high is None else _verdict(band.high.verdict),
        "runs": band.runs,
        "refused": band.refused or None,
        "values": [
            {
                "devices": list(each.devices),
                "text": each.text,
                **_place(each.span),
                "unfavourable": each.worst or None,
                "at_low": each.at_low,
                "at_high": each.at_high,
                "moved_s": _number(each.moved_s),
                "moved_charge": _number(each.moved_charge),
                "moved_V": _number(each.moved_v),
            }
            for each in band.effects
        ],
    }


def _joined(station: Station) -> dict[str, Any]:
    """What the file says of devices beside their power cables."""
    return {
        "never_together": [list(group) for group in station.never_together],
        "accepted": [
            {
                "rule": each.rule,
                "subject": each.subject,
                "reason": each.reason,
                **_place(each.span),
            }
            for each in station.accepted
        ],
        "confirmed": [
            {
                "question": each.question,
                "subject": each.subject,
                "answer": each.answer,
                **_place(each.span),
            }
            for each in station.confirmed
        ],
        "bonds": [
            {"from": bond.start, "to": bond.end, "place": bond.place, **_place(bond.span)}
            for bond in station.bonds
        ],
        "data_leads": [
            {
                "from": lead.start,
                "to": lead.end,
                "kind": lead.kind,
                "isolated": lead.isolated,
                "length_m": _number(lead.length_m),
                **_place(lead.span),
            }
            for lead in station.data_leads
        ],
    }


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {
        "word": verdict.word,
        "until": _time(verdict.until),
        "first_load": verdict.first_load,
        "cause": verdict.cause,
        "sentence": verdict.sentence,
        "reserve_at": _time(verdict.reserve_at),
        "cutoff_at": _time(verdict.cutoff_at),
        "drift_per_day": _number(verdict.drift_per_day),
        "what_ifs": [
            {
                "change": each.change,
                "outcome": each.outcome,
                "turns": each.turns,
                "gained_s": _number(each.gained_s),
            }
            for each in verdict.what_ifs
        ],
    }


def _ledger(ledger: Ledger) -> dict[str, float | None]:
    names = (
        "sources",
        "loads",
        "cables",
        "converters",
        "storage_loss",
        "stored_change",
        "leak",
        "residual",
        "throughput",
    )
    return {name: _number(getattr(ledger, name), WH) for name in names}


def _device(device: DeviceFigures) -> dict[str, Any]:
    stored = device.charge_min is not None
    return {
        "model": device.model,
        "kind": device.kind,
        "energy_Wh": _number(device.energy_j, WH),
        "voltage_V": {
            "min": _number(device.voltage_min_v),
            "mean": _number(device.voltage_mean_v),
            "max": _number(device.voltage_max_v),
        },
        "worst_voltage_V": _number(device.worst_voltage_v),
        "worst_voltage_at": _time(device.worst_voltage_at),
        "current_A": {
            "mean": _number(device.current_mean_a),
            "rms": _number(device.current_rms_a),
            "max": _number(device.current_max_a),
        },
        "powered_s": _number(device.powered_s),
        "wanted_s": _number(device.wanted_s),
        "charge": {
            "min": _number(device.charge_min),
            "max": _number(device.charge_max),
            "end": _number(device.charge_end),
        }
        if stored
        else None,
    }


def _cable(cable: CableFigures) -> dict[str, Any]:
    return {
        "name": cable.name,
        "from": cable.start,
        "to": cable.end,
        "wire": cable.wire,
        "length_m": _number(cable.length_m),
        "fuse_A": _number(cable.fuse_a),
        "resistance_ohm": _number(cable.resistance_ohm),
        "loss_Wh": _number(cable.loss_j, WH),
        "peak_A": _number(cable.peak_a),
        "rms_A": _number(cable.rms_a),
        "worst_drop_V": _number(cable.worst_drop_v),
        "worst_drop_percent": _number(cable.worst_drop_share, 100.0),
    }


def _requirement(result: RequirementResult) -> dict[str, Any]:
    return {
        "text": result.text,
        **_place(result.span),
        "met": result.met,
        "value": _number(result.value),
        "limit": _number(result.limit),
        "unit": result.unit,
        "at": _time(result.at),
        "words": result.words,
    }


def _place(span: Span | None) -> dict[str, Any]:
    """The file, which may be one that the station includes, and the line."""
    if span is None:
        return {"file": None, "line": None}
    return {"file": span.source.name, "line": span.line}


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "level": finding.level.value,
        "rule": finding.rule,
        "message": finding.message,
        "subject": finding.subject,
        **_place(finding.span),
        "remedy": finding.remedy,
        "yields": finding.yields,
        "limit_from": finding.limit_from,
        "value": _number(finding.value),
        "limit": _number(finding.limit),
        "unit": finding.unit,
        "accepted": finding.accepted,
        "open": finding.open,
    }


def _assumption(each: Assumption) -> dict[str, str]:
    return {
        "subject": each.subject,
        "parameter": each.parameter,
        "value": each.value,
        "basis": each.basis,
    }
