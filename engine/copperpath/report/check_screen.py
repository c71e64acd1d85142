"""The screen of `copperpath check`: what was read, and what the wiring gives cause to say."""

from __future__ import annotations

from collections import Counter

from copperpath.finding import Finding
from copperpath.quantities import show
from copperpath.report.findings import finding_lines
from copperpath.report.layout import paragraph
from copperpath.report.names_of_many import in_a_sentence
from copperpath.report.run_screen import assumption_lines
from copperpath.report.words import fixed
from copperpath.station import Station
from copperpath_grammar.diagnostics import Level

NOUNS = {
    "source": "source",
    "converter": "converter",
    "storage": "store",
    "block": "block",
    "load": "load",
}
"""What one device of a kind is called where they are counted."""


def check_screen(station: Station, findings: tuple[Finding, ...]) -> str:
    """All that `check` has to say about a station that could be built.

    Parameters
    ----------
    station : Station
        As the builder made it.
    findings : tuple of Finding
        From the structural checks.
    """
    sections = [
        [*paragraph(_summary(findings), indent=""), *_read_lines(station)],
        finding_lines(findings, station),
        assumption_lines(station.assumptions),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections if lines) + "\n"


def _summary(findings: tuple[Finding, ...]) -> str:
    if not findings:
        return "The file is in order and nothing in the wiring gives cause for a finding."
    counts = Counter(each.level for each in findings if not each.accepted and not each.open)
    words = [f"{counts[level]} {level.value}" for level in Level if counts[level]]
    said = f"findings: {', '.join(words)}" if words else "no finding stands"
    accepted = sum(bool(each.accepted) for each in findings)
    asked = sum(each.open and not each.accepted for each in findings)
    said += f"; {accepted} let stand by the author" if accepted else ""
    said += f"; {_count(asked, 'question')} not answered" if asked else ""
    return f"The file is in order; {said}."


def _read_lines(station: Station) -> list[str]:
    kinds = Counter(device.kind for device in station.devices)
    words = [_count(kinds[kind], noun) for kind, noun in NOUNS.items() if kinds[kind]]
    words.append(_count(len(station.cables), "cable"))
    words.append(_count(_requirement_count(station), "requirement"))
    words += [_count(len(station.cases), "case")] if station.cases else []
    words += [_count(len(station.uncertain), "uncertain value")] if station.uncertain else []
    lines = paragraph(f"{station.title}: {', '.join(words)}", hanging="    ")
    return lines + _mass_lines(station) + _joined_lines(station) + _case_lines(station)


def _requirement_count(station: Station) -> int:
    """Those of the file and those of its cases, each once."""
    several = (station, *(case.station for case in station.cases))
    return len({(each.text, each.span) for one in several for each in one.requirements})


def _joined_lines(station: Station) -> list[str]:
    """What the file says of devices beside their power cables."""
    lines = []
    for group in station.never_together:
        lines += paragraph(f"never keyed together: {', '.join(group)}", hanging="    ")
    for bond in station.bonds:
        lines += paragraph(f"bond: {bond.start} to {bond.end}", hanging="    ")
    for lead in station.data_leads:
        facts = [lead.kind or "data", "isolated" if lead.isolated else "not isolated"]
        if lead.length_m is not None:
            facts.append(show(lead.length_m, "length"))
        words = f"data lead: {lead.start} -> {lead.end} ({', '.join(facts)})"
        lines += paragraph(words, hanging="    ")
    return lines


def _case_lines(station: Station) -> list[str]:
    lines = []
    for case in station.cases:
        lines += paragraph(f'case "{case.title}": {"; ".join(case.changes)}', hanging="    ")
    return lines


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'s' if number != 1 else ''}"


def _mass_lines(station: Station) -> list[str]:
    text = f"mass {fixed(station.known_mass_kg, 2)} kg with cables"
    if station.without_mass:
        text += f", without {in_a_sentence(station.without_mass)} (no mass given)"
    return paragraph(text, hanging="    ")
