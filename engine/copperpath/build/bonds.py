"""The `bond` and `data` lines: what joins devices beside their power cables."""

from __future__ import annotations

from collections.abc import Mapping

from copperpath.build.build_errors import WrongForm
from copperpath.build.devices import Known
from copperpath.build.entries import known_entries
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.together_errors import NotABondEnd, SameEnds, WrongJoiner
from copperpath.build.value_errors import UnknownWord
from copperpath.build.wiring_errors import UnknownDevice
from copperpath.station import Bond, DataLead
from copperpath_grammar.nodes import BondNode, DataNode
from copperpath_grammar.value_nodes import Entry, Reference, Text

PLACES = ("chassis", "earth", "mast", "vehicle", "rack")
"""What a bond may go to that is no device of the file."""

ENTRIES = ("kind", "isolated", "length", "note")
KINDS = ("usb", "serial", "audio", "ethernet", "coax")


def build_bond(node: BondNode, known: Mapping[str, Known], scope: Scope) -> Bond | None:
    """One bond; None after a report."""
    before = len(scope.problems)
    start, end = node.start.text, node.end.text
    if node.joiner.text != "to":
        scope.report(WrongJoiner(node.joiner.span, start, node.joiner.text, end))
    if start not in known and not scope.may_be_unread(start):
        near = scope.near(start, known)
        scope.report(NotABondEnd(node.start.span, start, near, PLACES, end, True))
    if end not in known and end not in PLACES and not scope.may_be_unread(end):
        near = scope.near(end, (*known, *PLACES))
        scope.report(NotABondEnd(node.end.span, end, near, PLACES, start, False))
    if start == end and start in known:
        scope.report(SameEnds(node.start.span.to(node.end.span), "bond", start))
    if len(scope.problems) > before:
        return None
    return Bond(start, end, end not in known, node.span)


def build_data_lead(node: DataNode, known: Mapping[str, Known], scope: Scope) -> DataLead | None:
    """One data lead; None after a report."""
    before = len(scope.problems)
    start, end = (_device(each, known, scope) for each in (node.start, node.end))
    if start == end and start in known:
        scope.report(SameEnds(node.start.span.to(node.end.span), "lead", start))
    entries = node.body.entries if node.body is not None else ()
    kept, _ = known_entries(entries, ENTRIES, "a data lead", scope)
    by_name = {entry.name.text: entry for entry in kept}
    kind = _kind(by_name.get("kind"), scope)
    isolated = by_name.get("isolated")
    if isolated is not None and isolated.parts:
        scope.report(WrongForm(isolated.span, "isolated", "no value", "isolated"))
    length = _length(by_name.get("length"), scope)
    note = by_name.get("note")
    if note is not None and not isinstance(only_value(note), Text):
        scope.report(WrongForm(note.span, "note", "a text in double quotes", 'note "borrowed"'))
    if len(scope.problems) > before:
        return None
    return DataLead(start, end, kind, isolated is not None, length, node.span)


def _device(reference: Reference, known: Mapping[str, Known], scope: Scope) -> str:
    name = reference.text
    if name not in known and not scope.may_be_unread(reference.parts[0].text):
        scope.report(UnknownDevice(reference.span, name, scope.near(name, known)))
    return name


def _kind(entry: Entry | None, scope: Scope) -> str | None:
    if entry is None:
        return None
    value = only_value(entry)
    if not isinstance(value, Reference):
        takes = "one word: what sort of lead it is"
        scope.report(WrongForm(entry.span, "kind", takes, "kind usb"))
        return None
    if value.text in KINDS:
        return value.text
    near = scope.near(value.text, KINDS)
    scope.report(UnknownWord(value.span, "kind", value.text, near, KINDS))
    return None


def _length(entry: Entry | None, scope: Scope) -> float | None:
    if entry is None:
        return None
    value = only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, "length", "one length", "length 1.5 m"))
        return None
    return read_bounded(
        value,
        "length",
        "length",
        scope,
        low=0.0,
        high=10e3,
        low_allowed=False,
        reason="a lead has some length, up to 10 km",
        example="1.5 m",
        unit="m",
    )
