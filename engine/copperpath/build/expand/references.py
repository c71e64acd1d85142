"""From a written path with indices to full names: `table[1..2].rig.voltage` to two references.

Each reference that is found has the full name of a device first, then what follows the device in
the text (a terminal, a quantity). What no device of the file is called stays as it is written, and
the builder says so; only inside an assembly it is said here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from copperpath.build.expand.budget import Budget
from copperpath.build.expand.counts import numbers_of
from copperpath.build.expand.expand_errors import BeyondCount, NotSeveral, WhichOfMany
from copperpath.build.expand.frames import Frame, Thing
from copperpath.build.expand.kit_errors import (
    KitIsNoDevice,
    NoSuchExposed,
    NotExposed,
    NothingExposed,
    UnknownInside,
    WhichExposed,
)
from copperpath.build.expand.rewriting import path_with_full_names
from copperpath.build.expand.values import NamedValues
from copperpath.build.scope import Scope
from copperpath.build.wiring_errors import NotAnEnd
from copperpath_grammar.value_nodes import Name, Reference


@dataclass(frozen=True, slots=True)
class Found:
    """What a path means; `ranged` if it stands for as many as a range has, and be it one."""

    references: tuple[Reference, ...]
    ranged: bool = False


@dataclass(frozen=True, slots=True)
class Finder:
    """Finds what paths mean.

    `top` is the network of the file itself. With `as_end` a path is an end of a cable: kits are
    entered by their exposed terminals alone. With `whole_kits` a path may mean a kit as a whole.
    """

    top: Frame
    values: NamedValues
    scope: Scope
    budget: Budget
    whole_kits: bool = False

    def find(self, path: Reference, frame: Frame, *, as_end: bool = False) -> Found | None:
        """All that a path means in a network, in order; None after a report, or if that cannot be
        told because of a mistake that is reported elsewhere."""
        path = path_with_full_names(path, frame.values)
        return self._walk(path, path.parts, frame, as_end)

    def _walk(
        self, path: Reference, parts: Sequence[Name], frame: Frame, as_end: bool
    ) -> Found | None:
        first, rest = parts[0], parts[1:]
        thing = frame.things.get(first.text)
        if thing is None:
            return self._unknown(path, first, frame)
        names = self._names(first, thing)
        if names is None:
            return None
        ranged = _is_range(first)
        self.budget.places(path.span, len(names))
        found: list[Reference] = []
        for name in names:
            if thing.is_kit:
                inner = self._in_kit(path, first, rest, frame.kits.get(name), as_end)
            else:
                inner = self._of_device(path, Name(frame.prefix + name, first.span), rest)
            if inner is None:
                return None
            found += inner.references
            ranged = ranged or inner.ranged
        return Found(tuple(found), ranged)

    def _unknown(self, path: Reference, first: Name, frame: Frame) -> Found | None:
        """A name that this network has not got."""
        if frame.assembly is None:
            # The builder says that it is unknown, and proposes the nearest.
            plain = Name(first.text, first.span)
            return Found((Reference((plain, *path.parts[1:]), path.span),))
        if not frame.may_be_unread(first.text):
            near = self.scope.near(first.text, frame.things)
            outside = first.text in self.top.things
            name = frame.assembly.name.text
            self.scope.report(UnknownInside(first.span, first.text, name, near, outside))
        return None

    def _names(self, word: Name, thing: Thing) -> list[str] | None:
        """Which of the things a name with or without index means."""
        name = thing.name
        if not thing.sure:
            return None
        if word.index is None:
            if thing.count is None:
                return [name.text]
            self.scope.report(WhichOfMany(word.span, name.text, thing.count, name.span))
            return None
        if thing.count is None:
            self.scope.report(NotSeveral(word.span, name.text, "one thing"))
            return None
        numbers = numbers_of(word.written, word.index, self.values, self.scope)
        if numbers is None:
            return None
        if numbers[-1] > thing.count:
            self.scope.report(
                BeyondCount(word.span, name.text, numbers[-1], thing.count, name.span)
            )
            return None
        return [f"{name.text}[{number}]" for number in numbers]

    # ---- behind the name ----------------------------------------------------------------------

    def _of_device(self, path: Reference, device: Name, rest: Sequence[Name]) -> Found | None:
        """A device with what follows it; `strip.[1..6]` is six of its ways."""
        tails: list[tuple[Name, ...]] = [()]
        ranged = False
        for word in rest:
            choices = self._choices(word)
            if choices is None:
                return None
            ranged = ranged or _is_range(word)
            self.budget.places(path.span, len(tails) * len(choices))
            tails = [(*tail, choice) for tail in tails for choice in choices]
        return Found(tuple(Reference((device, *tail), path.span) for tail in tails), ranged)

    def _choices(self, word: Name) -> list[Name] | None:
        """`[1..6]` alone as six names; any other word as itself."""
        if word.index is None:
            return [word]
        if word.text:
            self.scope.report(NotSeveral(word.span, word.text, "no device"))
            return None
        numbers = numbers_of(word.written, word.index, self.values, self.scope)
        return None if numbers is None else [Name(str(each), word.span) for each in numbers]

    # ---- into kits ----------------------------------------------------------------------------

    def _in_kit(
        self, path: Reference, word: Name, rest: Sequence[Name], kit: Frame | None, as_end: bool
    ) -> Found | None:
        if kit is None or kit.assembly is None:  # its assembly is wrong, which is reported
            return None
        if as_end:
            return self._exposed(path, word, rest, kit)
        if not rest and self.whole_kits:
            name = Name(kit.prefix.removesuffix("."), word.span)
            return Found((Reference((name,), path.span),))
        if not rest:
            example = next(iter(kit.things), "rig")
            self.scope.report(KitIsNoDevice(word.span, word.written, example))
            return None
        return self._walk(path, rest, kit, as_end=False)

    def _exposed(
        self, path: Reference, word: Name, rest: Sequence[Name], kit: Frame
    ) -> Found | None:
        """The terminals inside a kit that an end of a cable means."""
        assert kit.assembly is not None
        assembly = kit.assembly.name.text
        if not rest:
            if len(kit.exposed) == 1:
                inner = self._target(next(iter(kit.exposed)), kit)
                return inner and Found((_at(inner.references[0], word, path),))
            if not kit.may_be_unread("expose"):
                known = tuple(kit.exposed)
                problem = WhichExposed if known else NothingExposed
                self.scope.report(problem(word.span, word.written, assembly, known))
            return None
        if rest[0].text in kit.things and rest[0].text not in kit.exposed:
            self._not_exposed(word, rest, rest[0], kit)
            return None
        choices = self._choices(rest[0])
        if choices is None:
            return None
        found: list[Reference] = []
        if len(rest) > 1 and choices[0].text in kit.exposed:
            self.scope.report(NotAnEnd(path.span, path.text))
            return None
        for choice in choices:
            if choice.text not in kit.exposed:
                self._not_exposed(word, rest, choice, kit)
                return None
            inner = self._target(choice.text, kit)
            if inner is None:
                return None
            found += inner.references
        return Found(tuple(_at(each, word, path) for each in found), _is_range(rest[0]))

    def _target(self, terminal: str, kit: Frame) -> Found | None:
        """The one terminal behind an exposed one; what is wrong with that line is told there."""
        quiet = Finder(self.top, self.values, Scope({}, [], self.scope.broken), self.budget)
        found = quiet.find(kit.exposed[terminal].target, kit, as_end=True)
        return found if found is not None and len(found.references) == 1 else None

    def _not_exposed(self, word: Name, rest: Sequence[Name], choice: Name, kit: Frame) -> None:
        assert kit.assembly is not None
        if kit.may_be_unread("expose"):
            return
        assembly = kit.assembly.name.text
        if rest[0].text in kit.things:
            inside = ".".join(each.written for each in rest)
            span = rest[0].span.to(rest[-1].span)
            self.scope.report(NotExposed(span, inside, word.written, assembly, rest[-1].text))
            return
        near = self.scope.near(choice.text, kit.exposed)
        known = tuple(kit.exposed)
        self.scope.report(
            NoSuchExposed(choice.span, choice.text, word.written, assembly, near, known)
        )


def _at(target: Reference, word: Name, path: Reference) -> Reference:
    """A terminal inside a kit, with its place where the kit is named outside."""
    return Reference(tuple(Name(part.text, word.span) for part in target.parts), path.span)


def _is_range(word: Name) -> bool:
    return word.index is not None and word.index.last is not None
