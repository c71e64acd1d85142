"""The values of a kit: what its entries say, what its assembly falls back on, what is missing."""

from __future__ import annotations

from collections.abc import Mapping

from copperpath.build.build_errors import WrongForm
from copperpath.build.entries import known_entries
from copperpath.build.expand.frames import Frame
from copperpath.build.expand.kit_errors import MissingForKit
from copperpath.build.expand.rewriting import with_full_names
from copperpath.build.scope import Scope, unread_in
from copperpath.build.single_values import only_value
from copperpath_grammar.nodes import AssemblyNode, KitNode, LetNode
from copperpath_grammar.value_nodes import Expression, Name


def given_values(
    kit: KitNode, assembly: AssemblyNode, outer: Frame, scope: Scope
) -> dict[str, Expression]:
    """The values that the kit's entries give, by parameter; mistakes are reported once a kit."""
    known = {parameter.name.text: parameter for parameter in assembly.parameters}
    owner = f"assembly `{assembly.name.text}`"
    kept, meant = known_entries(kit.body.entries, tuple(known), owner, scope)
    given: dict[str, Expression] = {}
    for entry in kept:
        name = entry.name.text
        value = only_value(entry)
        if value is None:
            default = known[name].default
            example = f"{name} {default.span.text if default is not None else '20 A'}"
            scope.report(WrongForm(entry.span, name, "one value", example))
        else:
            given[name] = with_full_names(value, outer.values)
    written = {entry.name.text for entry in kept} | meant
    for name, parameter in known.items():
        if parameter.default is None and name not in written and not unread_in(kit.body, name):
            span = kit.name.span
            place = parameter.name.span
            scope.report(MissingForKit(span, name, kit.name.text, assembly.name.text, place))
    return given


def lets_of(
    assembly: AssemblyNode, given: Mapping[str, Expression], frame: Frame
) -> tuple[list[LetNode], list[str]]:
    """The named values of one kit under their full names, and the full names of those without a
    value."""
    lets: list[LetNode] = []
    unknown: list[str] = []
    for parameter in assembly.parameters:
        name = parameter.name.text
        full = frame.values[name]
        if name in given:
            value = given[name]
        elif parameter.default is not None:
            value = with_full_names(parameter.default, frame.values)
        else:
            unknown.append(full)
            continue
        lets.append(LetNode(Name(full, parameter.name.span), value, parameter.span))
    for line in assembly.lines:
        if isinstance(line, LetNode):
            value = with_full_names(line.value, frame.values)
            full = frame.values[line.name.text]
            lets.append(LetNode(Name(full, line.name.span), value, line.span))
    return lets, unknown
