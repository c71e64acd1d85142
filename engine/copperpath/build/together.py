"""The `never together` lines: groups of radios of which one at most is keyed at a time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from copperpath.build.devices import Known
from copperpath.build.scope import Scope
from copperpath.build.together_errors import (
    InTwoGroups,
    NamedTwice,
    NotARadio,
    OneAlone,
)
from copperpath.build.wiring_errors import UnknownDevice
from copperpath_grammar.nodes import NeverNode
from copperpath_grammar.value_nodes import Reference


def build_groups(
    nodes: Iterable[NeverNode], known: Mapping[str, Known], scope: Scope
) -> tuple[tuple[str, ...], ...]:
    """The groups; a radio stands in one at most. Mistakes are reported."""
    groups = []
    grouped: dict[str, Reference] = {}
    for node in nodes:
        own: dict[str, Reference] = {}
        for member in node.members:
            name = member.text
            if name in own:
                scope.report(NamedTwice(member.span, name, own[name].span))
            elif name in grouped:
                scope.report(InTwoGroups(member.span, name, grouped[name].span))
            elif _is_radio(member, known, scope):
                own[name] = member
        if len(node.members) == 1:
            scope.report(OneAlone(node.span, node.members[0].text))
        grouped |= own
        groups.append(tuple(own))
    return tuple(group for group in groups if len(group) > 1)


def _is_radio(member: Reference, known: Mapping[str, Known], scope: Scope) -> bool:
    device = known.get(member.text)
    if device is None:
        if not scope.may_be_unread(member.parts[0].text):
            near = scope.near(member.text, known)
            scope.report(UnknownDevice(member.span, member.text, near))
        return False
    if device.model is not None and device.model.keying is None:
        radios = [
            name
            for name, each in known.items()
            if each.model is not None and each.model.keying is not None
        ]
        word = device.node.model.text
        scope.report(NotARadio(member.span, member.text, word, tuple(radios)))
        return False
    return True
