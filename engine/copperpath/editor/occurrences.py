"""Every place where a name is written, and what it means there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from copperpath.build.arithmetic import references_in
from copperpath.editor.complete_entries import forms_behind
from copperpath.editor.fixed_forms import CABLE_FORMS, LEAD_FORMS, STATION_FORMS
from copperpath.editor.forms import Form
from copperpath.editor.outline import case_owner
from copperpath.editor.reading import Reading
from copperpath.editor.symbols import Occurrence, Space, Symbol, Table, name_span, table_of
from copperpath_grammar.nodes import (
    AssemblyNode,
    BondNode,
    CableNode,
    CaseNode,
    ChangeNode,
    ComparisonClaim,
    DataNode,
    DeviceNode,
    ExposeNode,
    InCases,
    KitNode,
    LetNode,
    NeverNode,
    PartNode,
    PoweredClaim,
    RequireNode,
    StationNode,
    WithoutNode,
)
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Body, Entry, Expression, Name, Part, Reference, Text

FACING = ","
"""Behind the comma of a mounting a named value goes before a word."""


def occurrences_in(reading: Reading) -> list[Occurrence]:
    """All names of a text and of what it includes, as far as the statements can be read."""
    file = reading.whole
    if file is None:
        return []
    walker = _Walker(reading, table_of(file))
    return [each for statement in file.statements for each in walker.statement(statement, "")]


def occurrence_at(reading: Reading, offset: int) -> Occurrence | None:
    """The name at (or right before) an offset."""
    found = [
        each
        for each in occurrences_in(reading)
        if each.span.source.name == reading.source.name
        and each.span.start <= offset <= each.span.end
    ]
    return min(found, key=lambda each: each.span.end == offset, default=None)


@dataclass(frozen=True, slots=True)
class _Walker:
    reading: Reading
    table: Table

    # ---- statements ---------------------------------------------------------------------------

    def statement(self, node: object, owner: str) -> Iterator[Occurrence]:
        """The names in a statement that stands in the file, an assembly or a case."""
        match node:
            case StationNode():
                yield from self._body(node.body, owner, STATION_FORMS)
            case PartNode():
                yield from self._declared("part", owner, node.name, node.span)
                yield from self._named("part", owner, node.model)
                yield from self._body(node.body, owner, self._forms("part", node.model.text))
            case DeviceNode():
                yield from self._declared("device", owner, node.name, node.span)
                yield from self._named("part", owner, node.model)
                yield from self._values(node.count, owner)
                word = node.kind.text
                yield from self._body(node.body, owner, self._forms(word, node.model.text))
            case KitNode():
                yield from self._declared("device", owner, node.name, node.span)
                yield from self._named("assembly", "", node.assembly)
                yield from self._values(node.count, owner)
                yield from self._kit_body(node.body, owner, node.assembly.text)
            case CableNode():
                yield from self._path(node.start, owner)
                yield from self._path(node.end, owner)
                yield from self._body(node.body, owner, CABLE_FORMS)
            case LetNode():
                yield from self._declared("value", owner, node.name, node.span)
                yield from self._values(node.value, owner)
            case RequireNode():
                yield from self._requirement(node, owner)
            case AssemblyNode():
                yield from self._assembly(node)
            case CaseNode():
                yield from self._case(node)
            case _:
                yield from self._smaller(node, owner)

    def _smaller(self, node: object, owner: str) -> Iterator[Occurrence]:
        match node:
            case NeverNode():
                for member in node.members:
                    yield from self._path(member, owner)
            case BondNode():
                yield from self._path(node.start, owner)
                yield from self._path(node.end, owner)
            case DataNode():
                yield from self._path(node.start, owner)
                yield from self._path(node.end, owner)
                if node.body is not None:
                    yield from self._body(node.body, owner, LEAD_FORMS)
            case ExposeNode():
                yield from self._declared("terminal", owner, node.terminal, node.span)
                yield from self._path(node.target, owner)
            case ChangeNode():
                yield from self._change(node, owner)
            case WithoutNode():
                for removed in node.removed:
                    yield from self._path(removed.start, owner)
                    if removed.end is not None:
                        yield from self._path(removed.end, owner)
            case Entry():
                yield from self._entry(node, owner, STATION_FORMS)

    def _assembly(self, node: AssemblyNode) -> Iterator[Occurrence]:
        owner = node.name.text
        yield Occurrence(Symbol("assembly", "", owner), node.name.span, node.span)
        for parameter in node.parameters:
            yield from self._declared("value", owner, parameter.name, parameter.span)
            yield from self._values(parameter.default, owner)
        for line in node.lines:
            yield from self.statement(line, owner)

    def _case(self, node: CaseNode) -> Iterator[Occurrence]:
        title = node.title
        yield Occurrence(Symbol("case", "", title.value), _inside(title), node.span)
        for line in node.lines:
            yield from self.statement(line, case_owner(title.value))

    def _change(self, node: ChangeNode, owner: str) -> Iterator[Occurrence]:
        yield from self._path(node.start, owner)
        if node.end is not None:
            yield from self._path(node.end, owner)
            yield from self._body(node.body, owner, CABLE_FORMS)
            return
        symbol = self._last_device(node.start, owner)
        place = (symbol.owner, symbol.name) if symbol is not None else ("", "")
        if place in self.table.kits:
            yield from self._kit_body(node.body, owner, self.table.kits[place])
        else:
            model = self.table.models.get(place, "")
            yield from self._body(node.body, owner, self._forms("load", model))

    def _requirement(self, node: RequireNode, owner: str) -> Iterator[Occurrence]:
        match node.claim:
            case PoweredClaim() as claim:
                yield from self._path(claim.subject, owner)
                yield from self._values(claim.duration, owner)
            case ComparisonClaim() as claim:
                yield from self._path(claim.subject, owner)
                yield from self._values(claim.limit, owner)
        if isinstance(node.cases, InCases):
            for title in node.cases.titles:
                symbol = self.table.find("case", "", title.value)
                if symbol is not None:
                    yield Occurrence(symbol, _inside(title))

    # ---- bodies -------------------------------------------------------------------------------

    def _kit_body(self, body: Body, owner: str, assembly: str) -> Iterator[Occurrence]:
        for entry in body.entries:
            symbol = Symbol("value", assembly, entry.name.text)
            if symbol in self.table.symbols:
                yield Occurrence(symbol, name_span(entry.name))
            for part in entry.parts:
                yield from self._values(part.value, owner)

    def _body(self, body: Body, owner: str, forms: Mapping[str, Form]) -> Iterator[Occurrence]:
        for entry in body.entries:
            yield from self._entry(entry, owner, forms)

    def _entry(self, entry: Entry, owner: str, forms: Mapping[str, Form]) -> Iterator[Occurrence]:
        form = forms.get(entry.name.text, Form(""))
        for index, part in enumerate(entry.parts):
            if entry.name.text == "fuse" and part.joiner == "at":
                if isinstance(part.value, Reference) and part.value.text not in ("start", "end"):
                    yield from self._path(part.value, owner)
            elif form.named and not self._is_word(form, index, part, owner):
                yield from self._values(part.value, owner)

    def _is_word(self, form: Form, index: int, part: Part, owner: str) -> bool:
        """Whether a value is one of the entry's own words, not the name of a value."""
        if not isinstance(part.value, Reference):
            return False
        word = part.value.text
        if part.joiner == FACING and self.table.find("value", owner, word) is not None:
            return False
        return word in (form.first if index == 0 else form.after.get(part.joiner, ()))

    def _forms(self, word: str, model: str) -> Mapping[str, Form]:
        return forms_behind(self.reading, word, model)

    # ---- names --------------------------------------------------------------------------------

    def _declared(self, space: Space, owner: str, name: Name, whole: Span) -> Iterator[Occurrence]:
        symbol = self.table.find(space, owner, name.text) or Symbol(space, owner, name.text)
        yield Occurrence(symbol, name_span(name), whole)

    def _named(self, space: Space, owner: str, name: Name) -> Iterator[Occurrence]:
        symbol = self.table.find(space, owner, name.text)
        if symbol is not None:
            yield Occurrence(symbol, name_span(name))

    def _path(self, path: Reference, owner: str) -> Iterator[Occurrence]:
        """A device, or a way through kits to one, with the terminal that a kit exposes."""
        place: str | None = owner
        for name in path.parts:
            if name.index is not None:
                yield from self._values(name.index.first, owner)
                yield from self._values(name.index.last, owner)
            if place is None or not name.text:
                continue
            symbol = self._step(place, name.text, first=name is path.parts[0])
            if symbol is None:
                place = None
                continue
            yield Occurrence(symbol, name_span(name))
            place = self.table.kits.get((symbol.owner, symbol.name))

    def _step(self, place: str, name: str, *, first: bool) -> Symbol | None:
        if first:
            return self.table.find("device", place, name)
        for space in ("terminal", "device"):
            symbol = Symbol("terminal" if space == "terminal" else "device", place, name)
            if symbol in self.table.symbols:
                return symbol
        return None

    def _last_device(self, path: Reference, owner: str) -> Symbol | None:
        found = [each.symbol for each in self._path(path, owner) if each.symbol.space == "device"]
        return found[-1] if found else None

    def _values(self, expression: Expression | None, owner: str) -> Iterator[Occurrence]:
        for reference in references_in(expression) if expression is not None else ():
            first = reference.parts[0]
            if len(reference.parts) == 1 and first.index is None:
                yield from self._named("value", owner, first)


def _inside(text: Text) -> Span:
    """A text without its quotes."""
    return Span(text.span.source, text.span.start + 1, text.span.end - 1)
