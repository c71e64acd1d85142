"""The table of cases: what came of each, beside what is different in it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from copperpath.finding import Finding
from copperpath.record.record import Case, Record, Verdict
from copperpath.report.layout import Column, paragraph, table
from copperpath.report.words import MONTHS, fixed, nearest_minute, percent
from copperpath_grammar.diagnostics import Level

HEADINGS = {
    "holds": "HOLDS",
    "lasts": "LASTS",
    "runs down": "RUNS DOWN",
    "unknown": "UNKNOWN",
}
MOST_NAMED = 4
"""Cases named at the top of the screen; all are in the table."""

BAD = (Level.DANGER, Level.FAIL)


def case_lines(record: Record) -> list[str]:
    """The base and each case in a line, and under them what is different; empty without cases."""
    if len(record.cases) < 2:
        return []
    columns = (
        Column("", right=False),
        Column("verdict", right=False),
        Column("when", right=False),
        Column("first short", right=False, widest=11),
        Column("worst V", right=False, widest=16),
        Column("charge %"),
    )
    lines = [f"Cases ({len(record.cases) - 1})"]
    lines += table(columns, [_row(case) for case in record.cases])
    lines.append("  worst V: of the load nearest to its least; charge: the lowest of any store")
    for case in record.cases[1:]:
        lines += _changes(case)
        lines += _findings(case, record.base)
    lines += paragraph('`--case "TITLE"` shows one of them in full')
    return lines


def case_summary(record: Record) -> list[str]:
    """A line for the top of the screen: which cases are worse off than the station as it stands
    may make believe; empty if none is."""
    cases = record.cases[1:]
    lost = [f'"{case.name}"' for case in cases if case.verdict.word not in ("holds", "lasts")]
    if not lost:
        return []
    more = f" and {len(lost) - MOST_NAMED} more" if len(lost) > MOST_NAMED else ""
    names = ", ".join(lost[:MOST_NAMED]) + more
    verb = "does" if len(lost) == 1 else "do"
    return paragraph(f"{len(lost)} of {len(cases)} cases below {verb} not hold or last: {names}")


def short_moment(when: datetime) -> str:
    """`30 Mar 12:20`, to the nearest minute."""
    near = nearest_minute(when)
    return f"{near.day} {MONTHS[near.month - 1][:3]} {near:%H:%M}"


def _row(case: Case) -> tuple[str, ...]:
    verdict = case.verdict
    charges = [d.charge_min for d in case.devices if d.charge_min is not None]
    return (
        case.name,
        HEADINGS.get(verdict.word, verdict.word.upper()),
        _when(verdict),
        verdict.first_load or "-" if verdict.word == "runs down" else "-",
        nearest_load(case),
        percent(min(charges), 1) if charges else "-",
    )


def _when(verdict: Verdict) -> str:
    if verdict.word != "runs down" or verdict.until is None:
        return "-"
    return short_moment(verdict.until)


def nearest_load(case: Case) -> str:
    """The load that is nearest to the least volts it needs, or furthest below: `11.82 rig`."""
    found = []
    for device in case.station.devices:
        figures = next((each for each in case.devices if each.name == device.name), None)
        if figures is None or device.model.powered is None or device.kind != "load":
            continue
        volts = figures.worst_voltage_v
        if volts == volts:  # a load that is never wanted has no worst volts
            needs = float(device.values[device.model.powered[1]])
            found.append((volts - needs, volts, device.name))
    if not found:
        return "-"
    _, volts, name = min(found)
    return f"{fixed(volts, 2)} {name}"


def _changes(case: Case) -> list[str]:
    return paragraph(f"{case.name}: {'; '.join(case.changes)}", hanging="    ")


def _findings(case: Case, base: Case) -> list[str]:
    """How many findings of level danger or fail the case has that the base has not."""
    fresh = fresh_findings(case, base)
    if not fresh:
        return []
    rules = ", ".join(dict.fromkeys(f"{each.level.value.upper()} {each.rule}" for each in fresh))
    return paragraph(rules, indent="    ", hanging="    ")


def fresh_findings(case: Case, base: Case) -> Sequence[Finding]:
    """Findings of level danger or fail that the base has not."""
    known = {(each.rule, each.subject) for each in base.findings}
    return [
        each
        for each in case.findings
        if each.level in BAD and (each.rule, each.subject) not in known
    ]
