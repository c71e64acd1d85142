"""The screen of `copperpath run`: the verdict first, then what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from itertools import groupby

from copperpath.finding import Finding
from copperpath.record.record import (
    Band,
    Case,
    Record,
    Required,
    RequirementResult,
    Verdict,
)
from copperpath.report.band_screen import band_lines, band_words
from copperpath.report.cases_screen import HEADINGS, case_lines, case_summary
from copperpath.report.figures_screen import (
    cable_lines,
    corner_lines,
    device_lines,
    ledger_lines,
)
from copperpath.report.findings import accepted_lines, finding_lines
from copperpath.report.layout import WIDTH, paragraph, visible
from copperpath.report.names_of_many import in_a_sentence
from copperpath.report.words import coordinates, day_and_year, duration, moment, offset, place
from copperpath.required import BASE
from copperpath.station import Assumption, Station
from copperpath.study.verdict import NOTHING_S
from copperpath_grammar.diagnostics import Level

CAUTION = (
    "This is arithmetic, not permission. Batteries and cables can start fires, lithium cells are "
    "ruined by charging in the cold, engine fumes kill: local codes and licensed practice decide."
)


def run_screen(record: Record, name: str = BASE) -> str:
    """All that a run has to say, in lines of at most 80 columns.

    Parameters
    ----------
    record : Record
        A finished run.
    name : str
        The case that is shown in full.
    """
    case = record.case(name)
    if name == BASE:
        asked = requirement_lines(record.requirements, record.station)
        more = [case_lines(record), band_lines(record.band, record.station)]
        band = record.band
    else:
        alone = [Required(each, name, (name,), ()) for each in case.requirements]
        asked, more, band = requirement_lines(alone, record.station, of_one_case=True), [], None
    sections = [
        _title_lines(record.station if name == BASE else case.station, case),
        verdict_lines(case.verdict, band)
        + (case_summary(record) if name == BASE else [])
        + _danger_lines(case.findings),
        asked,
        *more,
        ledger_lines(case),
        device_lines(case),
        cable_lines(case),
        corner_lines(case),
        finding_lines(case.findings, case.station),
        accepted_lines(case.station),
        _mend_lines(case.verdict),
        assumption_lines(case.assumptions),
        _origin_lines(record, case),
        paragraph(CAUTION, indent=""),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections if lines) + "\n"


def headline(verdict: Verdict, band: Band | None = None) -> str:
    """The verdict in one line: `RUNS DOWN on Mon 30 March 12:20, rig first: ...`."""
    text = HEADINGS.get(verdict.word, verdict.word.upper())
    down = verdict.word == "runs down"
    if down and verdict.until is not None:
        text += f" on {moment(verdict.until)}"
    if band is not None:
        text += f" {band_words(band, verdict)}"
    if down:
        if verdict.first_load:
            text += f", {verdict.first_load} first"
        if verdict.cause:
            text += f": {verdict.cause}"
    return visible(text)


def verdict_lines(verdict: Verdict, band: Band | None = None) -> list[str]:
    """The headline and, under it, the sentence and the two times that are kept apart."""
    lines = paragraph(headline(verdict, band), indent="", hanging="  ")
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


def _title_lines(station: Station, case: Case) -> list[str]:
    site = station.site
    ends = site.starts + timedelta(seconds=site.lasts_s)
    lines = paragraph(station.title, indent="")
    if case.name != BASE:
        lines += paragraph(f'case "{case.name}": {"; ".join(case.changes)}', hanging="    ")
    when = (
        f"{day_and_year(site.starts)} to {day_and_year(ends)} ({offset(site.starts)}), "
        f"{duration(site.lasts_s)}"
    )
    where = coordinates(site.latitude_deg, site.longitude_deg)
    together = f"{when}, {where}"
    return [*lines, *([together] if len(together) <= WIDTH else [f"{when},", where])]


def requirement_lines(
    results: Sequence[Required], station: Station, *, of_one_case: bool = False
) -> list[str]:
    """Each requirement with its figure, of several cases that of the worst."""
    if not results:
        if of_one_case:
            return ["Requirements", "  none in the file speaks of this case"]
        return ["Requirements", "  none in the file; `require rig powered throughout` is one"]
    met = sum(result.met is True for result in results)
    title = f"Requirements: {met} of {len(results)} met"
    barely = sum(result.only_expected for result in results)
    if barely:
        title += f", {barely} of them not at the unfavourable end"
    lines = [title]
    marks = {True: "met", False: "NOT MET", None: "UNKNOWN"}
    for result in results:
        mark = f"  {marks[result.met]:<9}"
        worst, margin = result.worst, " " * len(mark)
        lines += paragraph(
            f"{worst.text} ({place(worst.span, station)})", indent=mark, hanging=margin
        )
        words = worst.words
        if words:
            words += "" if of_one_case else _which_case(result)
            lines += paragraph(words, indent=margin)
        if result.at_low is not None:
            lines += paragraph(_at_low(result, result.at_low), indent=margin)
    return lines


def _which_case(result: Required) -> str:
    """The case that a figure is of, where it could be of another."""
    if result.judged == (BASE,):
        return ""
    words = f'; in case "{result.case}"' if result.case != BASE else "; in the base case"
    count = len(result.judged)
    if len(result.missed) > 1:
        words += f", the worst; not met in {len(result.missed)} of {count}"
    elif count > 1:
        words += f", the worst of {count}"
    return words


def _at_low(result: Required, low: RequirementResult) -> str:
    where = "" if result.judged == (BASE,) else "in the base case, "
    words = f"{where}at the unfavourable end: {low.words}"
    return f"NOT MET {words}" if result.met is True and low.met is not True else words


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
    lines += paragraph(f"step: {record.step_s:g} s, {len(case.time_s)} steps")
    for name, words in case.provenance.items():
        if name != "step":
            lines += paragraph(f"{name}: {words}", hanging="    ")
    outcomes = ", ".join(f"{count} {name}" for name, count in case.outcomes.items() if count)
    if outcomes:
        lines += paragraph(f"outcomes: {outcomes}", hanging="    ")
    return lines
