"""From syntax nodes to a station: the steps in order, and all mistakes in text order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeAlias

from copperpath.build.accepting import read_accepting
from copperpath.build.bonds import build_bond, build_data_lead
from copperpath.build.cable_assumptions import cable_assumptions
from copperpath.build.cables import BuiltCable, build_cable, with_own_names
from copperpath.build.case_kits import KitValues
from copperpath.build.cases import (
    Variant,
    Variation,
    base_variant,
    build_cases,
    case_nodes,
    cases_asked,
    check_titles,
)
from copperpath.build.devices import Known, build_device
from copperpath.build.expand import Expanded, expand
from copperpath.build.include import join_files
from copperpath.build.model_errors import OtherVersion, UnknownModel
from copperpath.build.named_values import report_unused, settle_values
from copperpath.build.names import Declared, sort_statements, words_used
from copperpath.build.parts import settle_parts
from copperpath.build.requirements import build_requirement, subject_of
from copperpath.build.same_mistake import MoreMistakes, said_once
from copperpath.build.scope import Scope
from copperpath.build.site import build_site
from copperpath.build.terminals import End, find_end, report_unconnected, unconnected
from copperpath.build.together import build_groups
from copperpath.build.uncertain import gather
from copperpath.build.value_errors import UnknownValue
from copperpath.build.wiring_errors import UnknownDevice
from copperpath.catalogue import Catalogue
from copperpath.station import (
    Accepted,
    Assumption,
    Bond,
    Cable,
    Confirmed,
    DataLead,
    Device,
    SiteSettings,
    Station,
    StationCase,
    UncertainValue,
)
from copperpath_grammar.collecting import no_collecting
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.nodes import FileNode
from copperpath_grammar.source import Source, Span

GATHERED = UnknownDevice | UnknownModel | UnknownValue | OtherVersion
"""Mistakes that are said once for a name, with the further places."""

MOST_MISTAKES = 200
"""Nobody mends more of them at once."""


@dataclass(frozen=True, slots=True)
class BuildResult:
    """A station, or None where something is wrong; `diagnostics` in the order of the text."""

    station: Station | None
    diagnostics: tuple[Diagnostic, ...]


def build(file: FileNode, source: Source, catalogue: Catalogue, folder: Path | None) -> BuildResult:
    """Build what a file describes, with its cases.

    Parameters
    ----------
    file : FileNode
        All that the parser could read.
    source : Source
        The text.
    catalogue : Catalogue
        The models that the file may name.
    folder : Path or None
        Folder of the file, inside which it may name further files; None if there is none.
    """
    with no_collecting():
        return _build(file, source, catalogue, folder)


def _build(
    file: FileNode, source: Source, catalogue: Catalogue, folder: Path | None
) -> BuildResult:
    problems: list[Diagnostic] = []
    joined = join_files(file, source, folder, Scope({}, problems))
    broken = frozenset(name.text for name in joined.file.broken)

    def spelled_out(
        some: FileNode, problems: list[Diagnostic], kit_values: KitValues
    ) -> Expanded | None:
        return expand(some, Scope({}, problems, broken), kit_values)

    def built(variant: Variant) -> tuple[Station | None, list[Diagnostic]]:
        return _build_flat(variant, source, catalogue, folder)

    scope = Scope({}, problems, broken)
    nodes = case_nodes(joined.file, scope)
    check_titles(joined.file, nodes, scope)
    base: Station | None = None
    cases: list[StationCase] = []
    expanded = spelled_out(joined.file, problems, {})
    if expanded is not None:
        base, mistakes = built(base_variant(expanded))
        problems += mistakes
        how = Variation(spelled_out, built)
        cases, more = build_cases(joined.file, nodes, expanded, problems, how)
        problems += more
    if problems or base is None:
        return BuildResult(None, in_text_order(problems, joined.sources))
    return BuildResult(replace(base, cases=tuple(cases)), ())


def _build_flat(
    variant: Variant, source: Source, catalogue: Catalogue, folder: Path | None
) -> tuple[Station | None, list[Diagnostic]]:
    """The station of a file without kits and counts, and its mistakes; None if there are any."""
    expanded = variant.expanded
    file, trial = expanded.file, expanded.trial
    problems: list[Diagnostic] = []
    broken = frozenset(name.text for name in file.broken)
    scope = Scope(dict.fromkeys(expanded.unknown), problems, broken)
    declared = sort_statements(file, scope)
    scope = replace(scope, values=settle_values(declared.values, scope))
    all_read = not file.broken and not _has_broken_entries(file)
    if all_read:
        values = variant.wanting_use(declared.values)
        report_unused(values, {*words_used(file), *expanded.used}, scope)

    assumptions: list[Assumption] = []
    site = _build_site(declared, folder, scope, assumptions)
    lasts_s = site.lasts_s if site is not None else None
    scope = replace(scope, run=None if site is None else (site.starts, site.lasts_s))

    sheets = settle_parts(declared.parts, catalogue, scope)
    known = {
        name: build_device(node, sheets, catalogue, scope)
        for name, node in declared.devices.items()
    }
    problems[:] = [_with_devices(problem, declared) for problem in problems]
    cables = [build_cable(node, known, scope) for node in declared.cables]
    open_ones = _open_ones(variant, known, cables, scope)
    titled = [(r, cases_asked(r.cases, variant.title)) for r in declared.requirements]
    requirements = [build_requirement(r, known, lasts_s, scope, of) for r, of in titled]
    beside = _build_beside(declared, known, trial, scope)
    accepting = _accepting(declared, scope)

    if problems or site is None or declared.station is None or not all_read:
        return None, problems
    real = {name: each for name, each in known.items() if name not in trial}
    cables = [built for built in cables if built.ends[0].device in real]
    for device in real.values():
        assumptions += device.assumptions
    assumptions += cable_assumptions(built.choices for built in cables)
    wires = with_own_names([built.cable for built in cables if built.cable is not None])
    accepted, confirmed = _of_all(accepting, real, wires)
    return Station(
        declared.station.title.value,
        site,
        tuple(k.device for k in real.values() if k.device is not None),
        wires,
        tuple(r for r in requirements if r is not None and subject_of(r) not in trial),
        tuple(assumptions),
        source,
        beside.never_together,
        beside.bonds,
        beside.leads,
        beside.uncertain,
        open_ones,
        accepted=accepted,
        confirmed=confirmed,
    ), []


Accepting: TypeAlias = tuple[tuple[Accepted, ...], tuple[Confirmed, ...]]


def _accepting(declared: Declared, scope: Scope) -> Accepting:
    """What the `station` block lets stand and answers."""
    if declared.station is None:
        return (), ()
    return read_accepting(declared.station.body.entries, "", scope)


def _of_all(site: Accepting, known: dict[str, Known], wires: tuple[Cable, ...]) -> Accepting:
    """The same of the station, its devices and its cables together."""
    devices = [each.device for each in known.values() if each.device is not None]
    things: tuple[Device | Cable, ...] = (*devices, *wires)
    return (
        (*site[0], *(replace(a, subject=each.name) for each in things for a in each.accepted)),
        (*site[1], *(replace(c, subject=each.name) for each in things for c in each.confirmed)),
    )


def _open_ones(
    variant: Variant, known: dict[str, Known], cables: list[BuiltCable], scope: Scope
) -> tuple[str, ...]:
    """What has no cable and may be so; what may not is reported."""
    expanded = variant.expanded
    exposed = [find_end(each, known, scope) for each in expanded.exposed]
    ends = [end for built in cables for end in built.ends]
    ends += [end for end in exposed if end.device in expanded.trial]
    counted = {name: each for name, each in known.items() if name not in expanded.uncounted}
    return _report_unconnected(counted, ends, variant.may_be_open, scope)


def _build_site(
    declared: Declared, folder: Path | None, scope: Scope, assumptions: list[Assumption]
) -> SiteSettings | None:
    if declared.station is None:
        return None
    return build_site(declared.station, folder, scope, assumptions)


@dataclass(frozen=True, slots=True)
class _Beside:
    """What is said of devices beside their cables."""

    never_together: tuple[tuple[str, ...], ...]
    bonds: tuple[Bond, ...]
    leads: tuple[DataLead, ...]
    uncertain: tuple[UncertainValue, ...]


def _build_beside(
    declared: Declared, known: dict[str, Known], trial: frozenset[str], scope: Scope
) -> _Beside:
    """Radios that take turns, bonds, leads and ranges; without those of devices on trial."""
    groups = build_groups(declared.never, known, scope)
    bonds = [build_bond(node, known, scope) for node in declared.bonds]
    leads = [build_data_lead(node, known, scope) for node in declared.data]
    real = [(name, device) for name, device in known.items() if name not in trial]
    spreads = ((name, spread) for name, device in real for spread in device.spreads)
    return _Beside(
        tuple(group for group in groups if not trial & set(group)),
        tuple(bond for bond in bonds if bond is not None and bond.start not in trial),
        tuple(lead for lead in leads if lead is not None and lead.start not in trial),
        gather(spreads, scope),
    )


def in_text_order(
    problems: Iterable[Diagnostic], sources: Iterable[Source]
) -> tuple[Diagnostic, ...]:
    """Sorted by place, the files in the order given; what is said twice of one place is said once,
    and a name that is unknown in many places is one mistake."""
    order = {source.name: index for index, source in enumerate(sources)}

    def place(problem: Diagnostic) -> tuple[int, int, int, str]:
        span = problem.span
        return order.get(span.source.name, len(order)), span.start, span.end, problem.code

    ordered = _names_gathered(sorted(said_once(problems), key=place))
    if len(ordered) <= MOST_MISTAKES:
        return ordered
    left = ordered[MOST_MISTAKES:]
    return (*ordered[:MOST_MISTAKES], MoreMistakes(left[0].span, len(left)))


def _with_devices(problem: Diagnostic, declared: Declared) -> Diagnostic:
    """A refused model with the devices that lose it, directly or through parts."""
    if not isinstance(problem, OtherVersion):
        return problem
    lost = []
    for name, device in declared.devices.items():
        word, seen = device.model.text, set()
        while word in declared.parts and word not in seen:
            seen.add(word)
            word = declared.parts[word].model.text
        lost += [name] if word == problem.name else []
    return replace(problem, devices=tuple(lost))


def _names_gathered(problems: list[Diagnostic]) -> tuple[Diagnostic, ...]:
    kept: list[Diagnostic] = []
    first: dict[tuple[str, str], int] = {}
    also: dict[int, list[Span]] = {}
    for problem in problems:
        if isinstance(problem, GATHERED):
            key = (problem.code, problem.name)
            if key in first:
                also.setdefault(first[key], []).append(problem.span)
                continue
            first[key] = len(kept)
        kept.append(problem)
    for index, spans in also.items():
        one = kept[index]
        assert isinstance(one, GATHERED)
        kept[index] = replace(one, also=tuple(spans))
    return tuple(kept)


def _has_broken_entries(file: FileNode) -> bool:
    bodies = (getattr(statement, "body", None) for statement in file.statements)
    return any(body is not None and body.broken for body in bodies)


def _report_unconnected(
    known: dict[str, Known], ends: list[End], may_be_open: frozenset[str], scope: Scope
) -> tuple[str, ...]:
    """Report what is without a cable; gives the devices and terminals that may be."""
    used = {end.terminal for end in ends if end.terminal is not None}
    touched = {end.device for end in ends if end.terminal is None}
    must = {name: device for name, device in known.items() if name not in may_be_open}
    report_unconnected(must, used, touched, scope)
    wired = {terminal.device for terminal in used}
    found: list[str] = []
    for name in may_be_open & known.keys():
        model = known[name].model
        if model is not None and name not in touched:
            found += unconnected(name, model, used, wired)
    return tuple(sorted(found))
