"""The contents of a file as a tree, for an editor's list of what is in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from copperpath.editor.reading import Reading
from copperpath.editor.symbols import name_span
from copperpath_grammar.nodes import (
    AssemblyNode,
    CableNode,
    CaseNode,
    DeviceNode,
    IncludeNode,
    KitNode,
    LetNode,
    PartNode,
    RequireNode,
    StationNode,
)
from copperpath_grammar.source import Span

Sort: TypeAlias = Literal[
    "station", "part", "device", "kit", "cable", "value", "assembly", "case", "other"
]


@dataclass(frozen=True, slots=True)
class Content:
    """One thing: `whole` is its statement, `name` the words that a list jumps to."""

    label: str
    detail: str
    sort: Sort
    whole: Span
    name: Span
    inner: tuple[Content, ...] = ()


def contents(reading: Reading) -> list[Content]:
    """All statements that can be read, in their order."""
    file = reading.parsed.file
    found = [_content(each) for each in file.statements] if file is not None else []
    return [each for each in found if each is not None]


def _content(node: object) -> Content | None:
    match node:
        case StationNode():
            return Content(node.title.value, "station", "station", node.span, node.title.span)
        case PartNode():
            return _named(node, "part", f"part : {node.model.text}")
        case DeviceNode():
            return _named(node, "device", f"{node.kind.text} : {node.model.text}")
        case KitNode():
            return _named(node, "kit", f"kit : {node.assembly.text}")
        case LetNode():
            return _named(node, "value", " ".join(node.value.span.text.split()))
        case CableNode():
            ends = node.start.span.to(node.end.span)
            label = f"{node.start.text} -> {node.end.text}"
            return Content(label, "cable", "cable", node.span, ends)
        case RequireNode():
            return Content(node.text, "require", "other", node.span, node.claim.span)
        case IncludeNode():
            return Content(node.path.value, "include", "other", node.span, node.path.span)
        case AssemblyNode():
            inner = tuple(each for each in map(_content, node.lines) if each is not None)
            name = node.name.text
            return Content(name, "assembly", "assembly", node.span, node.name.span, inner)
        case CaseNode():
            inner = tuple(each for each in map(_content, node.lines) if each is not None)
            return Content(node.title.value, "case", "case", node.span, node.title.span, inner)
    return None


def _named(node: PartNode | DeviceNode | KitNode | LetNode, sort: Sort, detail: str) -> Content:
    return Content(node.name.text, detail, sort, node.span, name_span(node.name))
