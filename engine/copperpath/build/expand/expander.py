"""Many of one kind and kits of assemblies become plain devices and cables."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from copperpath.build.expand.assemblies import check_values, report_doubled, usable_assemblies
from copperpath.build.expand.budget import Budget, Overrun
from copperpath.build.expand.counts import count_of
from copperpath.build.expand.frames import Frame, Thing
from copperpath.build.expand.kit_errors import ExposedTwice, SeveralExposed, UnknownAssembly
from copperpath.build.expand.kits import given_values, lets_of
from copperpath.build.expand.lines import (
    flat_bonds,
    flat_cables,
    flat_data,
    flat_devices,
    flat_never,
    flat_requirements,
)
from copperpath.build.expand.references import Finder
from copperpath.build.expand.rewriting import with_full_names
from copperpath.build.expand.values import NamedValues
from copperpath.build.names import words_of
from copperpath.build.scope import Scope
from copperpath_grammar.nodes import (
    AssemblyNode,
    BondNode,
    CableNode,
    DataNode,
    DeviceNode,
    ExposeNode,
    FileNode,
    Inside,
    KitNode,
    LetNode,
    NeverNode,
    RequireNode,
    Statement,
)
from copperpath_grammar.value_nodes import Expression, Name, Reference


@dataclass(frozen=True, slots=True)
class Expanded:
    """A file without indices, counts, kits and assemblies.

    Attributes
    ----------
    file : FileNode
        The flat statements.
    finder : Finder
        Finds what paths of the file's own network mean.
    used : frozenset of str
        Named values that counts and indices speak of.
    unknown : frozenset of str
        Parameters of kits without a value, which is reported.
    exposed : tuple of Reference
        The terminals that kits expose.
    trial : frozenset of str
        Devices of assemblies that no kit is made of: built to be checked, never run.
    uncounted : frozenset of str
        Those of them in assemblies whose counts only a kit would give: without cables.
    """

    file: FileNode
    finder: Finder
    used: frozenset[str] = frozenset()
    unknown: frozenset[str] = frozenset()
    exposed: tuple[Reference, ...] = ()
    trial: frozenset[str] = frozenset()
    uncounted: frozenset[str] = frozenset()


def expand(
    file: FileNode, scope: Scope, kit_values: Mapping[str, Expression] | None = None
) -> Expanded | None:
    """Take a file's arrays and kits apart; mistakes are reported to `scope`.

    `kit_values` are values of kits by their full names, in place of those that the file gives.
    None if the station would become too large, which is reported: nothing is left to be built.
    """
    expander = _Expander(file, scope, kit_values or {})
    try:
        return expander.expand()
    except Overrun as overrun:
        scope.report(overrun.problem)
        return None


class _Expander:
    """Walks through the networks; the lists grow in the order of the text."""

    def __init__(self, file: FileNode, scope: Scope, kit_values: Mapping[str, Expression]) -> None:
        self.file = file
        self.kit_values = kit_values
        self.scope = scope
        self.budget = Budget()
        self.values = NamedValues()
        self.top = Frame(broken=scope.broken)
        self.finder = Finder(self.top, self.values, scope, self.budget)
        self.statements: list[Statement] = []
        self.broken: list[Name] = list(file.broken)
        self.exposed: list[Reference] = []
        self.built: set[str] = set()
        self.assemblies: dict[str, AssemblyNode] = {}
        self.declared: list[AssemblyNode] = []
        self.uncounted: set[str] = set()

    def expand(self) -> Expanded:
        self.declared = [s for s in self.file.statements if isinstance(s, AssemblyNode)]
        self.assemblies = usable_assemblies(self.declared, self.scope)
        for let in self.file.statements:
            if isinstance(let, LetNode):
                self.values.add(let)
        outside = dict(self.values.lets)
        for assembly in self.declared:
            check_values(assembly, outside, self.scope)
        self._fill(self.top, self.file.statements)
        real = len(self.statements)
        self._try_unused()
        trial = [s.name.text for s in self.statements[real:] if isinstance(s, DeviceNode)]
        file = FileNode(tuple(self.statements), self.file.span, tuple(self.broken))
        return Expanded(
            file,
            self.finder,
            frozenset(self.values.used),
            frozenset(self.values.unknown),
            tuple(self.exposed),
            frozenset(trial),
            frozenset(self.uncounted),
        )

    # ---- one network --------------------------------------------------------------------------

    def _fill(self, frame: Frame, lines: Sequence[Statement | Inside]) -> None:
        """All lines of a network: things first, as the other lines name them."""
        things = [line for line in lines if isinstance(line, DeviceNode | KitNode)]
        report_doubled((line.name for line in things), self.scope)
        for thing in things:
            if thing.name.text not in frame.things:
                self._declare(frame, thing)
        for line in lines:
            if not isinstance(line, DeviceNode | KitNode):
                self._flatten(frame, line)

    def _declare(self, frame: Frame, line: DeviceNode | KitNode) -> None:
        count = None
        is_kit = isinstance(line, KitNode)
        thing = Thing(line.name, is_kit, None)
        if line.count is not None:
            written = with_full_names(line.count, frame.values)
            count = count_of(line.name.text, written, self.values, self.scope)
            # One of them is built to be checked, if it is not known how many there are.
            thing = Thing(line.name, is_kit, count or 1, count is not None)
        frame.things[line.name.text] = thing
        if not thing.sure:
            self._doubt(frame, line.name)
        for name in thing.each():
            self.budget.device(frame.prefix + name, line.name.span)
        if isinstance(line, KitNode):
            self._kits(frame, line, thing)
        else:
            self.statements += flat_devices(line, thing.each(), frame)

    def _doubt(self, frame: Frame, name: Name) -> None:
        """Nobody shall miss this thing, or a cable at it: what it is, or how many, is not known."""
        self.broken += [Name(frame.prefix + name.text, name.span), Name("cable", name.span)]

    def _flatten(self, frame: Frame, line: Statement | Inside) -> None:
        """The flat lines of one line that declares no thing."""
        match line:
            case CableNode():
                for each in flat_cables(line, frame, self.finder):
                    self.budget.line(line.span)
                    if isinstance(each, Name):
                        self.broken.append(each)
                    else:
                        self.statements.append(each)
            case RequireNode():
                for requirement in flat_requirements(line, frame, self.finder):
                    self.budget.line(line.span)
                    self.statements.append(requirement)
            case NeverNode():
                for never in flat_never(line, frame, self.finder):
                    self.budget.line(line.span, len(never.members))
                    self.statements.append(never)
            case BondNode():
                for bond in flat_bonds(line, frame, self.finder):
                    self.budget.line(line.span)
                    self.statements.append(bond)
            case DataNode():
                for lead in flat_data(line, frame, self.finder):
                    self.budget.line(line.span)
                    self.statements.append(lead)
            case LetNode() if frame.assembly is not None:
                pass  # taken with the kit's values, under its full name
            case ExposeNode() | AssemblyNode() | DeviceNode() | KitNode():
                pass  # seen before
            case _:
                self.statements.append(line)

    # ---- kits ---------------------------------------------------------------------------------

    def _kits(self, outer: Frame, kit: KitNode, thing: Thing) -> None:
        name = kit.assembly.text
        assembly = self.assemblies.get(name)
        if assembly is None:
            known = [each.name.text for each in self.declared]
            if name not in known and not self.scope.may_be_unread(name, "assembly"):
                near = self.scope.near(name, known)
                self.scope.report(UnknownAssembly(kit.assembly.span, name, near))
            self._doubt(outer, kit.name)
            return
        given = given_values(kit, assembly, outer, self.scope)
        for each in thing.each():
            outer.kits[each] = self._build(assembly, f"{outer.prefix}{each}.", given)

    def _build(self, assembly: AssemblyNode, prefix: str, given: Mapping[str, Expression]) -> Frame:
        """One network of an assembly, all its flat lines put on the list."""
        self.built.add(assembly.name.text)
        lets = (line.name.text for line in assembly.lines if isinstance(line, LetNode))
        names = (*(parameter.name.text for parameter in assembly.parameters), *lets)
        frame = Frame(
            prefix,
            values={name: prefix + name for name in names},
            assembly=assembly,
            broken=frozenset(name.text for name in assembly.broken),
        )
        for name in assembly.broken:
            self.broken += [name, Name(prefix + name.text, name.span)]
        values, unknown = lets_of(assembly, given, frame)
        self.values.leave_unknown(unknown)
        for let in values:
            if let.name.text in self.kit_values:
                let = replace(let, value=self.kit_values[let.name.text])
            self.budget.line(let.span)
            self.values.add(let)
            self.statements.append(let)
        self._fill(frame, assembly.lines)
        self._expose(frame, assembly)
        return frame

    def _expose(self, frame: Frame, assembly: AssemblyNode) -> None:
        for line in assembly.lines:
            if not isinstance(line, ExposeNode):
                continue
            name = line.terminal.text
            if name in frame.exposed:
                first = frame.exposed[name].terminal.span
                self.scope.report(ExposedTwice(line.terminal.span, name, first))
                continue
            frame.exposed[name] = line
            found = self.finder.find(line.target, frame, as_end=True)
            if found is not None and found.ranged:
                self.scope.report(SeveralExposed(line.target.span, line.target.text))
            elif found is not None:
                self.exposed += found.references

    def _try_unused(self) -> None:
        """Build one network of each assembly that no kit is made of, so that it is checked too."""
        for name, assembly in reversed(self.assemblies.items()):
            if name in self.built or name in self.top.things:
                continue
            lines, doubts, told = len(self.statements), len(self.broken), len(self.scope.problems)
            self._build(assembly, f"{name}.", {})
            if self.broken[doubts:] and not assembly.broken and len(self.scope.problems) == told:
                del self.broken[doubts:]
                self._leave_uncounted(lines, f"{name}.")

    def _leave_uncounted(self, first: int, prefix: str) -> None:
        """Of a network on trial, from that line on, keep devices and values: how many there are
        only a kit would tell, so nobody can say which of them its other lines mean."""
        tried = self.statements[first:]
        kept = [each for each in tried if isinstance(each, DeviceNode | LetNode)]
        self.statements[first:] = kept
        self.uncounted.update(each.name.text for each in kept if isinstance(each, DeviceNode))
        own = (name for name in self.values.lets if name.startswith(prefix))
        texts = (line for assembly in self.declared for line in assembly.lines)
        words = (word for line in texts for word in words_of(line))
        self.values.used.update(own, words)
