"""All rules asked about a station, each remedy tried by asking its rule again."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from copperpath.finding import Finding
from copperpath.inquiry.budget import SpentError
from copperpath.inquiry.inquiry import StationInquiry
from copperpath.plugin_api.rule import Reading, Remedy, Rule
from copperpath.site.place import SiteProblem
from copperpath.station import Accepted, Cable, Device, Station
from copperpath_grammar.diagnostics import Level
from copperpath_grammar.source import Span

LEVELS = {
    "danger": Level.DANGER,
    "fail": Level.FAIL,
    "warn": Level.WARN,
    "note": Level.NOTE,
}
NOT_RECKONED = "not reckoned, as no number of the file changes"
NOT_TRIED = "not tried, as so large a station takes long to solve again"
READ_AGAIN = 50.0
"""What reading a device or a cable again counts, in entries of matrices."""

Progress = Callable[[str], None]


class RuleFailedError(Exception):
    """A rule went wrong while it was asked; the words name it and say what it did."""

    def __init__(self, rule: type[Rule], did: str) -> None:
        super().__init__(f"rule `{rule.name}` ({rule.__module__}) failed: {did}")


def judge(
    station: Station,
    rules: Sequence[type[Rule]],
    progress: Progress | None = None,
    *,
    remedies: bool = True,
) -> tuple[Finding, ...]:
    """What the rules find, worst first, each with its remedy and what that yields.

    Parameters
    ----------
    station : Station
    rules : sequence of Rule classes
    progress : callable, optional
        Told the name of each rule before it is asked.
    remedies : bool
        Whether each remedy is looked for and tried, which takes further solutions.

    Raises
    ------
    RuleFailedError
        If a rule itself goes wrong.
    """
    inquiry = StationInquiry(station)
    found = []
    for rule in rules:
        if progress is not None:
            progress(rule.name)
        try:
            for reading in rule.judge(inquiry):
                if reading.level is not None:
                    found.append(_finding(rule, reading, inquiry, remedies))
        except (RuleFailedError, SiteProblem):
            raise
        except SpentError:
            message = f"`{rule.name}` could not look at everything: the station is too large"
            found.append(Finding(Level.WARN, rule.name, message, "station", None, ""))
        except Exception as error:  # whatever a stranger's rule does
            raise RuleFailedError(rule, f"{type(error).__name__}: {error}") from error
    found += _idle(station, rules, found)
    order = list(Level)
    return tuple(sorted(found, key=lambda finding: order.index(finding.level)))


def _finding(
    rule: type[Rule], reading: Reading, inquiry: StationInquiry, remedies: bool
) -> Finding:
    if reading.level not in rule.levels:
        raise RuleFailedError(rule, f"gives the level {reading.level!r}, which it does not declare")
    remedy, yields = None, ""
    if remedies:
        try:
            remedy = rule.mend(inquiry, reading)
            yields = "" if remedy is None else _yields(rule, reading, remedy, inquiry)
        except SpentError:
            yields = "" if remedy is None else NOT_TRIED
    accepted = _accepted(rule.name, reading.subject, inquiry.station)
    return Finding(
        LEVELS[reading.level],
        rule.name,
        reading.message,
        reading.subject,
        span_of(inquiry.station, reading.subject),
        "" if remedy is None else remedy.words,
        yields=yields,
        limit_from=_limit_from(rule),
        value=reading.value,
        limit=reading.limit,
        unit=reading.unit,
        accepted="" if accepted is None else accepted.reason,
        open=reading.open,
    )


def _idle(station: Station, rules: Sequence[type[Rule]], found: Sequence[Finding]) -> list[Finding]:
    """What is accepted though nothing is found there, and answers that no rule asks for."""
    said = []
    names = {rule.name for rule in rules}
    for each in station.accepted:
        stands = any(one.rule == each.rule and each.subject in ("", one.subject) for one in found)
        if each.rule in names and not stands:
            where = f" at `{each.subject}`" if each.subject else ""
            message = f"`{each.rule}` is accepted{where}, but finds nothing there"
            said.append(_remark("accepted-nothing", message, each.subject, each.span))
    asked = {rule.asks for rule in rules if rule.asks}
    for answer in station.confirmed:
        if asked and answer.question not in asked:
            words = ", ".join(f'"{name}"' for name in sorted(asked))
            message = f'no rule asks "{answer.question}"; asked are {words}'
            said.append(_remark("confirmed-nothing", message, answer.subject, answer.span))
    return said


def _remark(rule: str, message: str, subject: str, span: Span) -> Finding:
    return Finding(Level.WARN, rule, message, subject or "station", span, "take it out")


def _limit_from(rule: type[Rule]) -> str:
    if rule.source:
        return f"{rule.limit_from}: {rule.source}"
    return "common practice, no source" if rule.limit_from == "common practice" else rule.limit_from


def second_reading(
    rule: type[Rule], reading: Reading, remedy: Remedy, inquiry: StationInquiry
) -> Reading | None:
    """The same place read again with the remedy made; None if the rule no longer looks there."""
    station = inquiry.station
    inquiry.budget.spend(READ_AGAIN * (len(station.devices) + len(station.cables)))
    again = inquiry.edited(*remedy.edits)
    where = (reading.subject, reading.place)
    return next((each for each in rule.judge(again) if (each.subject, each.place) == where), None)


def _yields(rule: type[Rule], reading: Reading, remedy: Remedy, inquiry: StationInquiry) -> str:
    if not remedy.edits:
        return NOT_RECKONED
    second = second_reading(rule, reading, remedy, inquiry)
    if second is None:
        return "then there is nothing left to find"
    figure = "" if second.value is None else f"{shown(second.value)} {second.unit}".strip()
    still = second.level is not None
    if not figure:
        return f"still found: {second.message}" if still else "then this is in order"
    words = figure
    if second.limit is not None:
        words += f", limit {shown(second.limit)} {second.unit}".rstrip()
    return f"{words}; not enough by itself" if still else words


def shown(value: float) -> str:
    """A figure with three or four digits that count."""
    if value == 0.0:
        return "0"
    size = abs(value)
    digits = 0 if size >= 100.0 else 1 if size >= 20.0 else 2 if size >= 0.1 else 4
    return f"{value:.{digits}f}"


def _accepted(rule: str, subject: str, station: Station) -> Accepted | None:
    return next(
        (a for a in station.accepted if a.rule == rule and a.subject in ("", subject)), None
    )


def span_of(station: Station, subject: str) -> Span | None:
    """Where a device or a cable stands in the text; None for the station."""
    things: tuple[Device | Cable, ...] = (*station.devices, *station.cables)
    for thing in things:
        if thing.name == subject:
            return thing.span
    return None
