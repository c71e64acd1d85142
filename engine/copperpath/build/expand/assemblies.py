"""The assemblies of a file: which can be built, and whether their own names are in order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from copperpath.build.build_errors import NameTaken
from copperpath.build.expand.kit_errors import AssemblyCycle, HidesValue, KitsTooDeep
from copperpath.build.named_values import circles
from copperpath.build.scope import Scope
from copperpath_grammar.nodes import AssemblyNode, KitNode, LetNode
from copperpath_grammar.value_nodes import Name

DEEPEST = 20
"""Kits in kits."""


def usable_assemblies(nodes: Iterable[AssemblyNode], scope: Scope) -> dict[str, AssemblyNode]:
    """Assemblies by name, those first that need no other; left out are those that hold kits of
    themselves or are too deep, which is reported."""
    declared: dict[str, AssemblyNode] = {}
    report_doubled((node.name for node in nodes), scope)
    for node in nodes:
        declared.setdefault(node.name.text, node)
    needs = {
        name: {line.assembly.text for line in node.lines if isinstance(line, KitNode)}
        & declared.keys()
        for name, node in declared.items()
    }
    users: dict[str, list[str]] = {name: [] for name in declared}
    for name, needed in needs.items():
        for each in needed:
            users[each].append(name)
    open_needs = {name: len(needed) for name, needed in needs.items()}
    depth: dict[str, int] = {}
    ready = [name for name, count in open_needs.items() if count == 0]
    while ready:
        name = ready.pop(0)
        depth[name] = 1 + max((depth[each] for each in needs[name]), default=0)
        if depth[name] == DEEPEST + 1:
            scope.report(KitsTooDeep(declared[name].name.span, DEEPEST))
        for user in users[name]:
            open_needs[user] -= 1
            if open_needs[user] == 0:
                ready.append(user)
    for circle in circles([name for name in declared if name not in depth], needs):
        scope.report(AssemblyCycle(declared[circle[0]].name.span, circle))
    return {name: declared[name] for name, deep in depth.items() if deep <= DEEPEST}


def report_doubled(names: Iterable[Name], scope: Scope) -> None:
    """Report each name that an earlier one has, or has but for capital letters."""
    first: dict[str, Name] = {}
    for name in names:
        other = first.setdefault(name.text.lower(), name)
        if other is not name:
            scope.report(NameTaken(name.span, name.text, other.text, other.span))


def check_values(node: AssemblyNode, outside: Mapping[str, LetNode], scope: Scope) -> None:
    """Report values of an assembly that are doubled or have the name of one of the file's."""
    inner = [line.name for line in node.lines if isinstance(line, LetNode)]
    names = [*(parameter.name for parameter in node.parameters), *inner]
    report_doubled(names, scope)
    for name in names:
        if name.text in outside:
            scope.report(HidesValue(name.span, name.text, outside[name.text].name.span))
