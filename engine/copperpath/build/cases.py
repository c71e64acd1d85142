"""Cases: for each a variant of the file is made and built like any station."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial

from copperpath.build.build_errors import DuplicateEntry
from copperpath.build.case_changes import with_added, with_changes
from copperpath.build.case_errors import (
    BadTitle,
    EmptyCase,
    EmptyChange,
    LeftOutThere,
    OnlyInCase,
    SecondCase,
    TooManyCases,
    UnknownCase,
    WrongWordOfCases,
)
from copperpath.build.case_kits import KitValues, spelled_out_with_kits
from copperpath.build.expand import Expanded
from copperpath.build.expand.budget import Overrun
from copperpath.build.names import words_of
from copperpath.build.scope import Scope
from copperpath.required import BASE
from copperpath.station import Station, StationCase
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.nodes import (
    CableNode,
    CaseNode,
    ChangeNode,
    ComparisonClaim,
    DeviceNode,
    FileNode,
    InCases,
    LetNode,
    PoweredClaim,
    RequireNode,
    Statement,
)
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Name

MOST_CASES = 50

MOST_THINGS = 20_000
"""Devices, cables and requirements of all cases together."""

COMMENT = re.compile(r'("(?:[^"\n]|"")*")|#[^\n]*')


@dataclass(frozen=True, slots=True)
class Variant:
    """A file taken apart, as one case has it.

    Attributes
    ----------
    title : str
        Of the case, or `BASE`.
    may_be_open : frozenset of str
        Devices that may be without a cable, as the case took away what they hung on.
    values_to_use : frozenset of str or None
        Named values that something must use; None for all.
    """

    expanded: Expanded
    title: str = BASE
    may_be_open: frozenset[str] = frozenset()
    values_to_use: frozenset[str] | None = None

    def wanting_use(self, values: Mapping[str, LetNode]) -> dict[str, LetNode]:
        """Those of the named values that something must use."""
        wanted = self.values_to_use
        return {name: let for name, let in values.items() if wanted is None or name in wanted}


@dataclass(frozen=True, slots=True)
class Variation:
    """How cases are built: `expand` takes kits and arrays apart, with the values that a case gives
    to kits, and puts mistakes on a list; `build` makes the station of one variant and gives it
    with its mistakes."""

    expand: Callable[[FileNode, list[Diagnostic], KitValues], Expanded | None]
    build: Callable[[Variant], tuple[Station | None, list[Diagnostic]]]


def case_nodes(file: FileNode, scope: Scope) -> list[CaseNode]:
    """The cases of a file, each title once; mistakes in titles are reported."""
    found: dict[str, CaseNode] = {}
    for node in (s for s in file.statements if isinstance(s, CaseNode)):
        title = plain_title(node.title.value)
        if title in found:
            scope.report(SecondCase(node.title.span, title, found[title].title.span))
            continue
        found[title] = node
        if title.lower() in ("", BASE):
            scope.report(BadTitle(node.title.span, title))
        elif not node.lines and not node.broken:
            scope.report(EmptyCase(node.title.span, title))
        _check_changes(node, scope)
    return list(found.values())


def _check_changes(node: CaseNode, scope: Scope) -> None:
    """Report `change` lines that change nothing, and what two lines say of the same thing."""
    first: dict[tuple[str, str], Name] = {}
    for line in node.lines:
        if not isinstance(line, ChangeNode):
            continue
        target = line.start.text if line.end is None else f"{line.start.text} -> {line.end.text}"
        if not line.body.entries and not line.body.broken:
            what = f"`{target}`" if line.end is None else f"the cable `{target}`"
            span = line.start.span if line.end is None else line.start.span.to(line.end.span)
            scope.report(EmptyChange(span, what))
        for name in {entry.name.text: entry.name for entry in line.body.entries}.values():
            known = first.setdefault((target, name.text), name)
            if known is not name:
                scope.report(DuplicateEntry(name.span, name.text, known.span))


def plain_title(title: str) -> str:
    """A title with its blanks made single."""
    return " ".join(title.split())


def check_titles(file: FileNode, nodes: Iterable[CaseNode], scope: Scope) -> None:
    """Report each requirement that speaks of cases that are not there."""
    titles = [plain_title(node.title.value) for node in nodes]
    for require in (s for s in file.statements if isinstance(s, RequireNode)):
        asked = require.cases
        if asked is None:
            continue
        if asked.word is not None and asked.word.text != "every":
            scope.report(WrongWordOfCases(asked.word.span, asked.word.text))
        for text in asked.titles:
            title = plain_title(text.value)
            if title not in titles and not scope.may_be_unread("case"):
                near = scope.near(title, titles)
                scope.report(UnknownCase(text.span, title, near, tuple(titles)))


def cases_asked(asked: InCases | None, title: str) -> tuple[str, ...]:
    """The cases that a requirement speaks of, if it speaks of this one; else none."""
    if asked is None:
        named: tuple[str, ...] = (BASE,)
    elif not asked.titles:
        return (title,)
    else:
        named = tuple(plain_title(text.value) for text in asked.titles)
    return named if title in named else ()


def base_variant(expanded: Expanded) -> Variant:
    """The file itself, with the requirements that speak of it."""
    kept: list[Statement] = []
    left: list[Statement] = []
    for statement in expanded.file.statements:
        of_cases = isinstance(statement, RequireNode) and not cases_asked(statement.cases, BASE)
        (left if of_cases else kept).append(statement)
    used = expanded.used | {word for statement in left for word in words_of(statement)}
    return Variant(_with_statements(replace(expanded, used=used), kept))


def _with_statements(expanded: Expanded, statements: Iterable[Statement]) -> Expanded:
    return replace(expanded, file=replace(expanded.file, statements=tuple(statements)))


def build_cases(
    file: FileNode,
    nodes: Iterable[CaseNode],
    base: Expanded,
    known: Iterable[Diagnostic],
    how: Variation,
) -> tuple[list[StationCase], list[Diagnostic]]:
    """Every case of a file, and the mistakes that are not in the base as well.

    Parameters
    ----------
    file : FileNode
        As parsed, with its kits and arrays.
    base : Expanded
        The same taken apart.
    known : iterable of Diagnostic
        Mistakes of the base.
    """
    cases: list[StationCase] = []
    told = {_key(problem) for problem in known}
    found: list[Diagnostic] = []
    devices = frozenset(s.name.text for s in base.file.statements if isinstance(s, DeviceNode))
    things = 0
    for count, node in enumerate(nodes):
        problems: list[Diagnostic] = []
        title = plain_title(node.title.value)
        station = None
        variant = _variant(file, node, devices, problems, how)
        things += _things_in(variant)
        if count >= MOST_CASES or things > MOST_THINGS:
            more = MOST_THINGS if count < MOST_CASES else 0
            found.append(TooManyCases(node.title.span, MOST_CASES, more))
            break
        if variant is not None:
            station, mistakes = how.build(variant)
            problems += mistakes
        for problem in problems:
            if _key(problem) not in told:
                told.add(_key(problem))
                found.append(_placed(problem, node, title))
        if station is not None and not problems:
            cases.append(StationCase(title, station, changes_in_words(node), node.title.span))
    return cases, found


def _things_in(variant: Variant | None) -> int:
    """How many devices, cables and requirements there are in a variant."""
    statements = variant.expanded.file.statements if variant is not None else ()
    return sum(
        isinstance(statement, DeviceNode | CableNode | RequireNode) for statement in statements
    )


def _variant(
    file: FileNode,
    node: CaseNode,
    devices: frozenset[str],
    problems: list[Diagnostic],
    how: Variation,
) -> Variant | None:
    """The file as a case has it; None if that became too large, which is reported."""
    broken = frozenset(name.text for name in (*file.broken, *node.broken))
    added = with_added(file, node, Scope({}, problems, broken))
    spell_out = partial(how.expand, added)
    try:
        expanded = spelled_out_with_kits(node, spell_out, problems)
    except Overrun as overrun:
        problems.append(overrun.problem)
        return None
    if expanded is None:
        return None
    broken = frozenset(name.text for name in expanded.file.broken)
    scope = Scope({}, problems, broken)
    try:
        changed, removed = with_changes(expanded, node, scope)
    except Overrun as overrun:
        problems.append(overrun.problem)
        return None
    kept = [s for s in changed.file.statements if _speaks_of(s, node, removed, scope)]
    lets = frozenset(line.name.text for line in node.lines if isinstance(line, LetNode))
    return Variant(_with_statements(changed, kept), plain_title(node.title.value), devices, lets)


def changes_in_words(node: CaseNode) -> tuple[str, ...]:
    """What a case changes, as its lines have it, without remarks and in single blanks."""
    return tuple(_in_one_line(line.span.text) for line in node.lines)


def _speaks_of(statement: Statement, node: CaseNode, removed: frozenset[str], scope: Scope) -> bool:
    """False for a requirement that does not speak of this case, or of what it is without."""
    title = plain_title(node.title.value)
    if not isinstance(statement, RequireNode):
        return True
    if not cases_asked(statement.cases, title):
        return False
    claim = statement.claim
    if not isinstance(claim, PoweredClaim | ComparisonClaim):
        return True
    name = claim.subject.parts[0]
    if name.text not in removed:
        return True
    if statement.cases is not None and statement.cases.titles:
        scope.report(LeftOutThere(name.span, name.text, title, node.title.span))
    return False


def _key(problem: Diagnostic) -> tuple[Span, str, str]:
    return problem.span, problem.code, problem.message


def _placed(problem: Diagnostic, node: CaseNode, title: str) -> Diagnostic:
    """A mistake outside the case's own lines says in which case it is one."""
    inside = (
        problem.span.source == node.span.source
        and node.span.start <= problem.span.start < node.span.end
    )
    if inside or isinstance(problem, LeftOutThere):
        return problem
    return OnlyInCase(problem.span, problem, title, node.title.span)


def _in_one_line(text: str) -> str:
    bare = COMMENT.sub(lambda found: found[1] or "", text)
    lines = [" ".join(line.split()) for line in bare.splitlines()]
    joined = "; ".join(line for line in lines if line)
    return joined.replace("{;", "{").replace("; }", " }").replace(";;", ";")
