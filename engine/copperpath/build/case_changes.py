"""A case's lines put over the file's own: first what stands in the text, then what became of it.

What a case adds is added to the file before kits and arrays are spelled out; what it changes or
leaves out is looked for among the plain devices and cables that come of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from copperpath.build.case_errors import (
    AlreadyThere,
    NoSuchCable,
    NothingToChange,
)
from copperpath.build.case_kits import kits_of
from copperpath.build.expand import Expanded
from copperpath.build.expand.fuse_places import turned, with_full_places
from copperpath.build.scope import Scope
from copperpath_grammar.nodes import (
    BondNode,
    CableNode,
    CaseNode,
    Changed,
    ChangeNode,
    DataNode,
    DeviceNode,
    FileNode,
    KitNode,
    LetNode,
    NeverNode,
    PartNode,
    Removed,
    Statement,
    StationNode,
    WithoutNode,
)
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Body, Entry, Reference

ON_AND_OFF = frozenset(("on", "off"))
"""Two entries that say the same thing: either takes the place of both."""


# ---- before kits and arrays are spelled out --------------------------------------------------


def with_added(file: FileNode, case: CaseNode, scope: Scope) -> FileNode:
    """The file with all that a case adds, and the station's settings as the case has them.

    The cables that a case changes or leaves out are added too, with nothing in them: spelled out
    they say which ones are meant, and `with_changes` takes them away again.
    """
    settings = tuple(line for line in case.lines if isinstance(line, Entry))
    plain = (s for s in file.statements if not isinstance(s, CaseNode))
    statements = [_with_settings(s, settings) for s in plain]
    first: dict[object, int] = {}
    for place, statement in enumerate(statements):
        first.setdefault(_identity(statement), place)
    given: set[object] = set()
    for line in case.lines:
        place = first.get(_identity(line), -1)
        again = _identity(line) in given
        given.add(_identity(line))
        match line:
            case LetNode() | PartNode() if place >= 0 and not again:
                statements[place] = line
            case DeviceNode() | KitNode() | CableNode() if place >= 0:
                scope.report(_already_there(line, statements[place]))
            case LetNode() | PartNode() | DeviceNode() | KitNode() | CableNode():
                first[_identity(line)] = len(statements)
                statements.append(line)
            case NeverNode() | BondNode() | DataNode():
                statements.append(line)
            case ChangeNode(start=start, end=end) if end is not None:
                statements.append(_pointer(start, end, line))
            case WithoutNode():
                statements += [
                    _pointer(each.start, each.end, each)
                    for each in line.removed
                    if each.end is not None
                ]
    return replace(file, statements=tuple(statements), broken=(*file.broken, *case.broken))


def _identity(line: Statement | Changed) -> object:
    """What two lines share of which there can be only one; the line itself if there is none."""
    match line:
        case LetNode() | PartNode():
            return type(line), line.name.text
        case DeviceNode() | KitNode():
            return "thing", line.name.text
        case CableNode():
            return "cable", frozenset((line.start.text, line.end.text))
    return "line", line.span


def _with_settings(statement: Statement, settings: tuple[Entry, ...]) -> Statement:
    if not isinstance(statement, StationNode) or not settings:
        return statement
    return replace(statement, body=_merged(statement.body, Body(settings, statement.body.span)))


def _already_there(line: DeviceNode | KitNode | CableNode, there: Statement) -> AlreadyThere:
    if isinstance(line, CableNode) and isinstance(there, CableNode):
        return _cable_there(line, there)
    assert isinstance(line, DeviceNode | KitNode)
    assert isinstance(there, DeviceNode | KitNode)
    name = line.name.text
    return AlreadyThere(line.name.span, f"`{name}`", f"change {name}", there.name.span)


def _cable_there(line: CableNode, there: CableNode) -> AlreadyThere:
    span, place = line.start.span.to(line.end.span), there.start.span.to(there.end.span)
    what = f"a cable from `{there.start.text}` to `{there.end.text}`"
    return AlreadyThere(span, what, f"change cable {there.start.text} -> {there.end.text}", place)


def _pointer(start: Reference, end: Reference, line: ChangeNode | Removed) -> CableNode:
    return CableNode(start, end, Body((), line.span), line.span)


def _merged(body: Body, over: Body) -> Body:
    """The entries of a body with those of another in place of the ones of the same name."""
    names = {entry.name.text for entry in over.entries}
    names |= ON_AND_OFF if names & ON_AND_OFF else set()
    kept = tuple(entry for entry in body.entries if entry.name.text not in names)
    return Body((*kept, *over.entries), body.span, (*body.broken, *over.broken))


# ---- after kits and arrays are spelled out ---------------------------------------------------


def with_changes(
    expanded: Expanded, case: CaseNode, scope: Scope
) -> tuple[Expanded, frozenset[str]]:
    """The flat file with what a case changes and leaves out, and the devices it is without."""
    pointing = {
        line.span
        for each in case.lines
        for line in ([each] if isinstance(each, ChangeNode) else getattr(each, "removed", ()))
        if line.end is not None
    }
    things = _Things(expanded, pointing, scope)
    things.check_added([line for line in case.lines if isinstance(line, CableNode)])
    for line in case.lines:
        if isinstance(line, ChangeNode):
            things.change(line)
    for line in case.lines:
        if isinstance(line, WithoutNode):
            for each in line.removed:
                things.remove(each)
    file = replace(expanded.file, statements=things.left())
    removed = frozenset(things.removed)
    exposed = tuple(each for each in expanded.exposed if each.parts[0].text not in removed)
    return replace(expanded, file=file, exposed=exposed), removed


class _Things:
    """The statements of a flat file while a case is put over them."""

    def __init__(self, expanded: Expanded, pointing: set[Span], scope: Scope) -> None:
        self._scope = scope
        self._expanded = expanded
        self._finder = replace(expanded.finder, scope=scope, whole_kits=True)
        self._pointers: dict[Span, list[CableNode]] = {}
        self._statements: list[Statement | None] = []
        for statement in expanded.file.statements:
            if isinstance(statement, CableNode) and statement.span in pointing:
                self._pointers.setdefault(statement.span, []).append(statement)
            else:
                self._statements.append(statement)
        self._devices: dict[str, int] = {}
        self._cables: dict[frozenset[str], list[int]] = {}
        for place, each in enumerate(self._statements):
            if isinstance(each, DeviceNode) and each.name.text not in expanded.trial:
                self._devices[each.name.text] = place
            elif isinstance(each, CableNode):
                self._cables.setdefault(_ends_of(each), []).append(place)
        self._kits = kits_of(self._statements)
        self.removed: set[str] = set()

    def left(self) -> tuple[Statement, ...]:
        """What is left: nothing that speaks of a removed device but a requirement."""
        left = (s if s is None else self._without_removed(s) for s in self._statements)
        return tuple(statement for statement in left if statement is not None)

    def check_added(self, lines: Sequence[CableNode]) -> None:
        """Report cables that a line with ranges adds though they are there already."""
        added = {line.span: line for line in lines}
        for places in self._cables.values():
            own = [self._cable_at(place) for place in places]
            there = [cable for cable in own if cable.span not in added]
            for cable in own:
                if cable.span in added and there:
                    del added[cable.span]
                    self._scope.report(_cable_there(cable, there[0]))

    def _cable_at(self, place: int) -> CableNode:
        cable = self._statements[place]
        assert isinstance(cable, CableNode)
        return cable

    def change(self, line: ChangeNode) -> None:
        """Put the entries of a `change` over those of what it names."""
        if line.end is not None:
            written = _pointer(line.start, line.end, line)
            for place, pointer in self._cables_of(line):
                cable = self._cable_at(place)
                over = with_full_places(line.body, written, pointer.start, pointer.end)
                if pointer.start.text != cable.start.text:
                    over = turned(over)
                self._statements[place] = replace(cable, body=_merged(cable.body, over))
            return
        for name in self._names(line.start):
            if name in self._devices:
                device = self._statements[self._devices[name]]
                assert isinstance(device, DeviceNode)
                changed = replace(device, body=_merged(device.body, line.body))
                self._statements[self._devices[name]] = changed
            elif not self._is_kit(name):  # kits have their values already
                self._report_nothing(line.start, name)

    def remove(self, line: Removed) -> None:
        """Leave out a device, a kit or a cable."""
        if line.end is not None:
            for place, _ in self._cables_of(line):
                self._statements[place] = None
            return
        for name in self._names(line.start):
            gone = [name] if name in self._devices else []
            if not gone and self._is_kit(name):
                gone = [each for each in self._devices if each.startswith(f"{name}.")]
            for each in gone:
                self._statements[self._devices.pop(each)] = None
            self.removed.update(gone)
            if not gone:
                self._report_nothing(line.start, name)

    def _names(self, reference: Reference) -> list[str]:
        """The devices and kits that a reference means."""
        found = self._finder.find(reference, self._finder.top)
        return [] if found is None else [each.text for each in found.references]

    def _is_kit(self, name: str) -> bool:
        return name in self._kits

    def _cables_of(self, line: ChangeNode | Removed) -> list[tuple[int, CableNode]]:
        """Places of the cables that a line names, each with what names it; reports those that are
        not there."""
        found = []
        for pointer in self._pointers.get(line.span, ()):
            places = self._cables.get(_ends_of(pointer), [])
            left = [place for place in places if self._statements[place] is not None]
            found += [(place, pointer) for place in left]
            if not left and not self._scope.may_be_unread("cable"):
                self._report_no_cable(line, pointer)
        return found

    def _report_no_cable(self, line: ChangeNode | Removed, pointer: CableNode) -> None:
        assert line.end is not None
        start, end = pointer.start.text, pointer.end.text
        devices = {pointer.start.parts[0].text, pointer.end.parts[0].text}
        near = [
            f"{cable.start.text} -> {cable.end.text}"
            for cable in self._statements
            if isinstance(cable, CableNode)
            and devices & {cable.start.parts[0].text, cable.end.parts[0].text}
        ]
        span = line.start.span.to(line.end.span)
        self._scope.report(NoSuchCable(span, start, end, tuple(near[:4])))

    def _report_nothing(self, reference: Reference, name: str) -> None:
        if name in self.removed or self._scope.may_be_unread(name):
            return
        near = self._scope.near(name, self._devices)
        self._scope.report(NothingToChange(reference.span, name, near))

    def _without_removed(self, statement: Statement) -> Statement | None:
        match statement:
            case CableNode(start=start, end=end) | DataNode(start=start, end=end):
                gone = {start.parts[0].text, end.parts[0].text} & self.removed
                return None if gone else statement
            case BondNode(start=start, end=end):
                return None if {start.text, end.text} & self.removed else statement
            case NeverNode(members=members):
                left = tuple(each for each in members if each.text not in self.removed)
                if len(left) == len(members):
                    return statement
                return replace(statement, members=left) if len(left) > 1 else None
        return statement


def _ends_of(cable: CableNode) -> frozenset[str]:
    """Both ends of a cable, whichever comes first."""
    return frozenset((cable.start.text, cable.end.text))
