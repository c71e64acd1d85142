"""The values that a case gives to kits: known before kits are spelled out, as they may be counts.

A count may decide which kits there are, so the file is spelled out until nothing new is found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from copperpath.build.build_errors import WrongForm
from copperpath.build.case_errors import NoSuchKitValue
from copperpath.build.expand import Expanded
from copperpath.build.expand.assemblies import DEEPEST
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.nodes import CaseNode, ChangeNode, DeviceNode, LetNode, Statement
from copperpath_grammar.value_nodes import Entry, Expression

KitValues = Mapping[str, Expression]
"""By full names such as `table[2].rating`."""

SpellOut = Callable[[list[Diagnostic], KitValues], Expanded | None]
"""Spells the file out with these values of kits; mistakes go on the list."""


def spelled_out_with_kits(
    case: CaseNode, spell_out: SpellOut, problems: list[Diagnostic]
) -> Expanded | None:
    """The flat file with the values that the case gives to kits; mistakes go on the list.

    None if it became too large, which is reported.
    """
    values: KitValues = {}
    for _ in range(DEEPEST + 2):
        mistakes: list[Diagnostic] = []
        expanded = spell_out(mistakes, values)
        if expanded is None:
            break
        broken = frozenset(name.text for name in expanded.file.broken)
        found = _kit_values(expanded, case, Scope({}, mistakes, broken))
        if found == values:
            break
        values = found
    problems += mistakes
    return expanded


def _kit_values(expanded: Expanded, case: CaseNode, scope: Scope) -> KitValues:
    """What the `change` lines say of kits; mistakes are reported."""
    lines = [line for line in case.lines if isinstance(line, ChangeNode) and line.end is None]
    if not lines:
        return {}
    quiet = Scope({}, [], scope.broken)  # a name that is wrong is told when devices are changed
    finder = replace(expanded.finder, scope=quiet, whole_kits=True)
    values_of = _values_of_kits(expanded)
    found: dict[str, Expression] = {}
    for line in lines:
        meant = finder.find(line.start, finder.top)
        for kit in [] if meant is None else [each.text for each in meant.references]:
            for entry in line.body.entries if kit in values_of else ():
                value = _value(entry, kit, tuple(values_of[kit]), scope)
                if value is not None:
                    found[f"{kit}.{entry.name.text}"] = value
    return found


def _values_of_kits(expanded: Expanded) -> dict[str, list[str]]:
    """The names of the values of each kit, by its full name."""
    found: dict[str, list[str]] = {name: [] for name in kits_of(expanded.file.statements)}
    for statement in expanded.file.statements:
        if isinstance(statement, LetNode):
            kit, _, name = statement.name.text.rpartition(".")
            if kit:
                found[kit].append(name)
    return found


def kits_of(statements: Iterable[Statement | None]) -> set[str]:
    """The full names of all kits that anything stands in."""
    found: set[str] = set()
    for statement in statements:
        if isinstance(statement, DeviceNode | LetNode):
            kit = statement.name.text.rpartition(".")[0]
            while kit and kit not in found:
                found.add(kit)
                kit = kit.rpartition(".")[0]
    return found


def _value(entry: Entry, kit: str, known: tuple[str, ...], scope: Scope) -> Expression | None:
    name, value = entry.name.text, only_value(entry)
    if name not in known:
        near = scope.near(name, known)
        scope.report(NoSuchKitValue(entry.name.span, kit, name, near, known))
        return None
    if value is None:
        scope.report(WrongForm(entry.span, name, "one value", f"{name} 2 m"))
    return value
