"""The mistakes of a text while it is typed, with what to write instead, by the file they are in."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.editor.positions import Position, Stretch, stretch_of
from copperpath.editor.reading import Reading
from copperpath_grammar import Diagnostic, Span
from copperpath_grammar.nodes import AssemblyNode, IncludeNode, LetNode, PartNode


@dataclass(frozen=True, slots=True)
class Related:
    """A further place that matters, in this file or another."""

    file: str
    stretch: Stretch
    text: str


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake; `message` says what is wrong and what to write instead."""

    stretch: Stretch
    code: str
    message: str
    related: tuple[Related, ...]


WANTS_STATION = ("build/no-station", "build/unused-value")
"""What is no mistake in a file of parts that other files include."""


def is_shared(reading: Reading) -> bool:
    """Whether a file only describes things for other files to use."""
    file = reading.parsed.file
    held = (PartNode, LetNode, AssemblyNode, IncludeNode)
    return file is not None and all(isinstance(each, held) for each in file.statements)


def mistakes_in(reading: Reading) -> dict[str, list[Mistake]]:
    """All mistakes by the name of the file they are in; the text itself is always among them."""
    found: dict[str, list[Mistake]] = {reading.source.name: []}
    shared = is_shared(reading)
    for each in reading.loaded.diagnostics:
        if shared and each.code in WANTS_STATION:
            continue
        found.setdefault(each.span.source.name, []).append(_mistake(each))
    return found


def syntax_mistakes_in(reading: Reading) -> list[Mistake]:
    """What the parser alone says about a text."""
    return [_mistake(each) for each in reading.parsed.diagnostics]


def _mistake(diagnostic: Diagnostic) -> Mistake:
    message = diagnostic.message
    if diagnostic.help:
        message = f"{message}\n{diagnostic.help}"
    related = tuple(
        Related(label.span.source.name, stretch_of(label.span), label.text or "see also")
        for label in diagnostic.further
    )
    return Mistake(_visible(diagnostic.span), diagnostic.code, message, related)


def _visible(span: Span) -> Stretch:
    """The places of a span; one letter at least, where the line has one."""
    stretch = stretch_of(span)
    if span.start < span.end:
        return stretch
    start = stretch.start
    return Stretch(start, Position(start.line, start.character + 1))
