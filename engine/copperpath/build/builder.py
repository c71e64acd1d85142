"""From syntax nodes to a station: the steps in order, and all mistakes in text order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from copperpath.build.build_errors import OtherVersion, UnknownModel
from copperpath.build.cable_assumptions import cable_assumptions
from copperpath.build.cables import build_cable, with_own_names
from copperpath.build.devices import Known, build_device
from copperpath.build.expand import Expanded, expand
from copperpath.build.include import join_files
from copperpath.build.named_values import report_unused, settle_values
from copperpath.build.names import Declared, sort_statements, words_used
from copperpath.build.parts import settle_parts
from copperpath.build.requirements import build_requirement, subject_of
from copperpath.build.same_mistake import MoreMistakes, said_once
from copperpath.build.scope import Scope
from copperpath.build.site import build_site
from copperpath.build.terminals import End, find_end, report_unconnected
from copperpath.build.value_errors import UnknownValue
from copperpath.build.wiring_errors import UnknownDevice
from copperpath.catalogue import Catalogue
from copperpath.station import Assumption, Station
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
    """Build what a file describes.

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
    expanded = expand(joined.file, Scope({}, problems, broken))
    station = None
    if expanded is not None:
        station = _build_flat(expanded, source, catalogue, folder, problems)
    ordered = in_text_order(problems, joined.sources)
    return BuildResult(None if problems else station, ordered)


def _build_flat(
    expanded: Expanded,
    source: Source,
    catalogue: Catalogue,
    folder: Path | None,
    problems: list[Diagnostic],
) -> Station | None:
    """The station of a file without kits and counts; None after reports, put on `problems`."""
    file = expanded.file
    broken = frozenset(name.text for name in file.broken)
    scope = Scope(dict.fromkeys(expanded.unknown), problems, broken)
    declared = sort_statements(file, scope)
    scope = Scope(settle_values(declared.values, scope), problems, broken)
    all_read = not file.broken and not _has_broken_entries(file)
    if all_read:
        report_unused(declared.values, {*words_used(file), *expanded.used}, scope)

    site_assumptions: list[Assumption] = []
    site = None
    if declared.station is not None:
        site = build_site(declared.station, folder, scope, site_assumptions)
    if site is not None:
        scope = replace(scope, run=(site.starts, site.lasts_s))

    sheets = settle_parts(declared.parts, catalogue, scope)
    known = {
        name: build_device(node, sheets, catalogue, scope)
        for name, node in declared.devices.items()
    }
    problems[:] = [_with_devices(problem, declared) for problem in problems]
    cables = [build_cable(node, known, scope) for node in declared.cables]
    exposed = [find_end(each, known, scope) for each in expanded.exposed]
    ends = [end for built in cables for end in built.ends]
    _report_unconnected(known, [*ends, *(e for e in exposed if e.device in expanded.trial)], scope)

    lasts_s = site.lasts_s if site is not None else None
    requirements = [build_requirement(r, known, lasts_s, scope) for r in declared.requirements]

    if problems or site is None or declared.station is None or not all_read:
        return None
    real = {name: each for name, each in known.items() if name not in expanded.trial}
    cables = [built for built in cables if built.ends[0].device in real]
    assumptions = [*site_assumptions]
    for device in real.values():
        assumptions += device.assumptions
    assumptions += cable_assumptions(built.choices for built in cables)
    return Station(
        declared.station.title.value,
        site,
        tuple(k.device for k in real.values() if k.device is not None),
        with_own_names([built.cable for built in cables if built.cable is not None]),
        tuple(r for r in requirements if r is not None and subject_of(r) not in expanded.trial),
        tuple(assumptions),
        source,
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


def _report_unconnected(known: dict[str, Known], ends: list[End], scope: Scope) -> None:
    used = {end.terminal for end in ends if end.terminal is not None}
    touched = {end.device for end in ends if end.terminal is None}
    report_unconnected(known, used, touched, scope)
