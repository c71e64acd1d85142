"""The figures and findings that a drawing shows beside its symbols.

`annotate` alone knows where they come from: the low corner of the station (every radio keyed that
may be keyed together, every load wanted, stores at their lowest planned charge, nothing from sun
or other sources that come and go) and the checks and rules of its wiring.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from copperpath.finding import Finding
from copperpath.plugin_api.rule import Rule
from copperpath.station import Station
from copperpath_grammar.diagnostics import Level


@dataclass(frozen=True, slots=True)
class Annotations:
    """What is written beside the symbols.

    Attributes
    ----------
    volts : mapping of str to (float or None, float)
        By terminal, `strip.1`: the mean, if it is known, and the worst instant [V].
    amps : mapping of str to float
        By cable, at the worst instant [A].
    findings : tuple of Finding
        Their numbers are their places, from 1 on.
    marks : mapping of str to tuple of (Level, int)
        By device or cable: the levels and numbers of the findings that speak of it.
    basis : str
        Which instant the figures are of, or why there are none.
    """

    volts: Mapping[str, tuple[float | None, float]] = field(default_factory=dict)
    amps: Mapping[str, float] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    marks: Mapping[str, tuple[tuple[Level, int], ...]] = field(default_factory=dict)
    basis: str = ""


WORST = (
    "V and A: the worst instant, in the coldest air, with every radio keyed that may be, every "
    "load on, "
)
BASIS = WORST + (
    "batteries at their lowest planned charge and nothing from sun or other sources that come and "
    "go."
)
WITHOUT_STORE = WORST + "and every source at its best, as there is no battery."
MOST_ALIKE = 3
"""Of more findings of one rule and level than this, all have one number."""

NONE = "No V and A: "
UNSOLVED = NONE + "the wiring cannot be solved as it stands; see the findings."
NO_POINT = NONE + "no voltage carries even a part of the loads."


def annotate(
    station: Station,
    rules: Sequence[type[Rule]] = (),
    progress: Callable[[str], None] | None = None,
) -> Annotations:
    """Figures of the low corner, findings of the wiring and of the rules; no run over time is made.

    A station that cannot be solved is drawn all the same, without figures.
    """
    from copperpath.inquiry.inquiry import StationInquiry
    from copperpath.inquiry.judge import judge
    from copperpath.network.checks import check_network
    from copperpath.site import SiteProblem

    order = list(Level)
    found = check_network(station)
    inquiry = StationInquiry(station)
    try:
        found += judge(station, rules, progress, remedies=False)
        low, problem = inquiry.low, inquiry.problem
    except SiteProblem as trouble:
        return _annotations(station, found, f"{NONE}{trouble.message}.")
    found = tuple(sorted(found, key=lambda finding: order.index(finding.level)))
    if problem is None:
        return _annotations(station, found, UNSOLVED)
    if not low.found:
        return _annotations(station, found, NO_POINT)
    stores = any(device.kind == "storage" for device in station.devices)
    basis = BASIS if stores else WITHOUT_STORE
    if low.opened:
        basis += f" Switched off, as not all loads can be carried then: {', '.join(low.opened)}."
    volts = {name: (None, volt) for name, volt in low.volts.items()}
    amps = {name: abs(amp) for name, amp in low.amps.items()}
    return replace(_annotations(station, found, basis), volts=volts, amps=amps)


def _annotations(station: Station, found: Sequence[Finding], basis: str) -> Annotations:
    """Findings and words; questions that the file does not answer are counted, not listed."""
    listed = tuple(finding for finding in found if not finding.open)
    asked = len(found) - len(listed)
    if asked:
        basis += f" {asked} question{'s' * (asked > 1)} of the checklist not answered by the file."
    groups = _alike(listed)
    marks: dict[str, tuple[tuple[Level, int], ...]] = {}
    for number, group in enumerate(groups, start=1):
        for name in dict.fromkeys(marked_at(finding, station) for finding in group):
            marks[name] = (*marks.get(name, ()), (group[0].level, number))
    marks.pop("", None)
    return Annotations(findings=tuple(_told(group) for group in groups), marks=marks, basis=basis)


def _alike(findings: Sequence[Finding]) -> list[list[Finding]]:
    """Findings by their numbers: each has its own, but many of one rule share one."""
    groups: list[list[Finding]] = []
    shared: dict[tuple[Level, str, str], list[Finding]] = {}
    for finding in findings:
        key = (finding.level, finding.rule, finding.accepted)
        same = sum((each.level, each.rule, each.accepted) == key for each in findings)
        if same <= MOST_ALIKE:
            groups.append([finding])
        elif key in shared:
            shared[key].append(finding)
        else:
            shared[key] = [finding]
            groups.append(shared[key])
    return groups


def _told(group: Sequence[Finding]) -> Finding:
    """One entry for a group: its first, and how many more there are."""
    first = group[0]
    if len(group) == 1:
        return first
    return replace(
        first, message=f"{first.message}; and {len(group) - 1} more like it, with this mark"
    )


def marked_at(finding: Finding, station: Station) -> str:
    """The device or the cable that a finding speaks of; "" if it is of the station."""
    names = {device.name for device in station.devices}
    names |= {cable.name for cable in station.cables}
    subject = finding.subject
    # A terminal stands for its device.
    while subject not in names and "." in subject:
        subject = subject.rpartition(".")[0]
    return subject if subject in names else ""
