"""The screen of `copperpath run`: the verdict first, then what it rests on."""

from __future__ import annotations

from datetime import timedelta
from itertools import groupby

from copperpath.finding import Finding
from copperpath.record.record import Case, Record, RequirementResult, Verdict
from copperpath.report.figures_screen import (
    cable_lines,
    corner_lines,
    device_lines,
    ledger_lines,
)
from copperpath.report.layout import paragraph, visible
from copperpath.report.names_of_many import in_a_sentence
from copperpath.report.words import coordinates, day_and_year, duration, moment, offset
from copperpath.station import Assumption, Station
from copperpath.study.verdict import NOTHING_S
from copperpath_grammar.diagnostics import Level

HEADINGS = {
    "holds": "HOLDS",
    "lasts": "LASTS",
    "runs down": "RUNS DOWN",
    "unknown": "UNKNOWN",
}
CAUTION = (
    "This is arithmetic, not permission. Batteries and cables can start fires, lithium cells are "
    "ruined by charging in the cold, engine fumes kill: local codes and licensed practice decide."
)


def run_screen(record: Record) -> str:
    """All that a run has to say, in lines of at most 80 columns.

    Parameters
    ----------
    record : Record
        A finished run.
    """
    case = record.base
    sections = [
        _title_lines(record.station),
        verdict_lines(case.verdict) + _danger_lines(record.findings),
        _requirement_lines(case.requirements),
        ledger_lines(case),
        device_lines(case),
        cable_lines(case),
        corner_lines(case),
        finding_lines(record.findings),
        _mend_lines(case.verdict),
        assumption_lines(record.assumptions),
        _origin_lines(record, case),
        paragraph(CAUTION, indent=""),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections if lines) + "\n"


def headline(verdict: Verdict) -> str:
    """The verdict in one line: `RUNS DOWN on Mon 30 March 12:20, rig first: ...`."""
    text = HEADINGS.get(verdict.word, verdict.word.upper())
    if verdict.word == "runs down":
        if verdict.until is not None:
            text += f" on {moment(verdict.until)}"
        if verdict.first_load:
            text += f", {verdict.first_load} first"
        if verdict.cause:
            text += f": {verdict.cause}"
    return visible(text)


def verdict_lines(verdict: Verdict) -> list[str]:
    """The headline and, under it, the sentence and the two times that are kept apart."""
    lines = paragraph(headline(verdict), indent="", hanging="  ")
    if verdict.sentence:
        lines += paragraph(verdict.sentence)
    if verdict.reserve_at is not None:
        lines.append(f"  reserve reached   {moment(verdict.reserve_at)}")
    if verdict.cutoff_at is not None:
        lines.append(f"  first load short  {moment(verdict.cutoff_at)}")
    return lines


def _danger_lines(findings: tuple[Finding, ...]) -> list[str]:
    """A line beside the verdict if dangers stand further down."""
    count = sum(finding.level is Level.DANGER for finding in findings)
    if not count:
        return []
    return [f"  DANGER            {count} finding{'s' if count > 1 else ''} below: read them first"]


def finding_lines(findings: tuple[Finding, ...]) -> list[str]:
    """Findings, the worst first, each with what to do about it."""
    if not findings:
        return []
    order = list(Level)
    lines = ["Findings"]
    for finding in sorted(findings, key=lambda each: order.index(each.level)):
        where = f" (line {finding.line})" if finding.line is not None else ""
        level = finding.level.value.upper() if order.index(finding.level) < 2 else ""
        mark = f"  {level or finding.level.value:<8}"
        lines += paragraph(f"{finding.message}{where}", indent=mark, hanging=" " * 10)
        if finding.remedy:
            lines += paragraph(f"try: {finding.remedy}", indent=" " * 10)
    return lines


def assumption_lines(assumptions: tuple[Assumption, ...]) -> list[str]:
    """Every value that the file did not give, under the device that took it."""
    if not assumptions:
        return []
    lines = [f"Assumed, as the file does not say ({len(assumptions)} values)"]
    # Devices that assume the same stand together: there may be many of one kind.
    sharing: dict[tuple[tuple[str, str, str], ...], list[str]] = {}
    for subject, own in groupby(assumptions, key=lambda each: each.subject):
        values = tuple((each.parameter, each.value, each.basis) for each in own)
        sharing.setdefault(values, []).append(subject)
    for values, subjects in sharing.items():
        lines += paragraph(in_a_sentence(subjects))
        for parameter, value, reason in values:
            basis = f" ({reason})" if reason else ""
            lines += paragraph(f"{parameter} {value}{basis}", indent=" " * 4, hanging=" " * 8)
    return lines


def _title_lines(station: Station) -> list[str]:
    site = station.site
    ends = site.starts + timedelta(seconds=site.lasts_s)
    return [
        *paragraph(station.title, indent=""),
        *paragraph(
            f"{day_and_year(site.starts)} to {day_and_year(ends)} ({offset(site.starts)}), "
            f"{duration(site.lasts_s)}, {coordinates(site.latitude_deg, site.longitude_deg)}",
            indent="",
        ),
    ]


def _requirement_lines(results: tuple[RequirementResult, ...]) -> list[str]:
    if not results:
        return ["Requirements", "  none in the file; `require rig powered throughout` is one"]
    met = sum(result.met is True for result in results)
    title = f"Requirements: {met} of {len(results)} met"
    lines = [title]
    marks = {True: "met", False: "NOT MET", None: "UNKNOWN"}
    for result in results:
        mark = f"  {marks[result.met]:<9}"
        lines += paragraph(
            f"{result.text} (line {result.line})", indent=mark, hanging=" " * len(mark)
        )
        if result.words:
            lines += paragraph(result.words, indent=" " * len(mark))
    return lines


def _mend_lines(verdict: Verdict) -> list[str]:
    if not verdict.what_ifs:
        return []
    lines = ["What would mend it, each tried alone by running again"]
    for each in verdict.what_ifs:
        helps = "helps" if (each.gained_s or 0.0) >= NOTHING_S else "no help"
        mark = f"  {'mends' if each.turns else helps:<9}"
        lines += paragraph(f"{each.change}: {each.outcome}", indent=mark, hanging=" " * len(mark))
    return lines


def _origin_lines(record: Record, case: Case) -> list[str]:
    lines = ["How these numbers were obtained"]
    lines += paragraph(f"step: {record.step_s:g} s, {len(record.time_s)} steps")
    for name, words in record.provenance.items():
        if name != "step":
            lines += paragraph(f"{name}: {words}", hanging="    ")
    outcomes = ", ".join(f"{count} {name}" for name, count in case.outcomes.items() if count)
    if outcomes:
        lines += paragraph(f"outcomes: {outcomes}", hanging="    ")
    return lines
