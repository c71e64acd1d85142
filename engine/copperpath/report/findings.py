"""Findings as people read them: level, sentence, place, remedy and what it yields."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.finding import Finding
from copperpath.report.layout import paragraph
from copperpath.report.words import place
from copperpath.station import Station
from copperpath_grammar.diagnostics import Level

MARGIN = " " * 10


def finding_lines(findings: Sequence[Finding], station: Station) -> list[str]:
    """Findings, the worst first, each with what to do about it; then those that the author lets
    stand, and the questions that the file does not answer."""
    order = list(Level)
    ranked = sorted(findings, key=lambda each: order.index(each.level))
    standing = [each for each in ranked if not each.accepted and not each.open]
    accepted = [each for each in ranked if each.accepted]
    questions = [each for each in ranked if each.open and not each.accepted]
    sections = []
    if standing:
        sections.append(["Findings", *_each(standing, station)])
    if accepted:
        title = "Let stand by the author, with the reason"
        sections.append([title, *_each(accepted, station)])
    if questions:
        sections.append(["Not answered by the file", *_each(questions, station)])
    lines: list[str] = []
    for section in sections:
        lines += ["", *section] if lines else section
    return lines


def _each(findings: Sequence[Finding], station: Station) -> list[str]:
    lines = []
    for finding in findings:
        where = f" ({place(finding.span, station)})" if finding.span is not None else ""
        loud = finding.level in (Level.DANGER, Level.FAIL)
        mark = f"  {finding.level.value.upper() if loud else finding.level.value:<8}"
        lines += paragraph(f"{finding.message}{where}", indent=mark, hanging=MARGIN)
        if finding.accepted:
            lines += paragraph(f"let stand: {finding.accepted}", indent=MARGIN)
            continue
        if finding.remedy:
            lines += paragraph(f"try: {finding.remedy}", indent=MARGIN)
        if finding.yields:
            lines += paragraph(f"yields: {finding.yields}", indent=MARGIN)
        if finding.limit_from:
            rule = f"rule {finding.rule}; its limit: {finding.limit_from}"
            lines += paragraph(rule, indent=MARGIN)
    return lines


def accepted_lines(station: Station) -> list[str]:
    """What the author lets stand of the wiring rules, whatever they would find; for outputs that do
    not ask the rules."""
    if not station.accepted:
        return []
    lines = ["Let stand by the author, as `copperpath check` tells in full"]
    for each in station.accepted:
        where = f" at `{each.subject}`" if each.subject else ""
        words = f"{each.rule}{where}: {each.reason} ({place(each.span, station)})"
        lines += paragraph(words, hanging="    ")
    return lines
