"""Syntax trees without the places they were read from, to be compared."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from copperpath_grammar import Span
from copperpath_grammar.nodes import RequireNode


def bare(node: Any) -> Any:
    """A node as nested tuples without its spans.

    A requirement also carries its text as it was written; that is compared without blanks.
    """
    if isinstance(node, tuple):
        return tuple(bare(each) for each in node)
    if not is_dataclass(node):
        return node
    values = {each.name: getattr(node, each.name) for each in fields(node)}
    if isinstance(node, RequireNode):
        values["text"] = "".join(node.text.split())
    kept = [(name, bare(v)) for name, v in values.items() if not isinstance(v, Span)]
    return (type(node).__name__, *kept)
