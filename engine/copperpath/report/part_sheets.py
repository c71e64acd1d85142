"""Parts of a library file as people read them: figures as written, and the remark above each.

A remark stands directly above its part: what the part stands for, then a line that begins with
`Range:` and one that begins with `Source:`; each may go on over further lines.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from copperpath_grammar.nodes import FileNode, PartNode
from copperpath_grammar.source import Source
from copperpath_grammar.value_nodes import Entry

HEADS = ("", "Range", "Source")
"""What the three pieces of a remark begin with."""


@dataclass(frozen=True, slots=True)
class PartSheet:
    """One part with everything it takes over from the parts it builds on.

    Attributes
    ----------
    model : str
        The model at the end of the chain of parts.
    built_on : str
        What stands behind its colon: a model or another part.
    figures : mapping of str to str
        The values of each entry as written, by its name: `{"capacity": "12 Ah"}`.
    what, range, source : str
        The pieces of its remark, empty where there is none.
    """

    name: str
    model: str
    built_on: str
    figures: Mapping[str, str]
    what: str
    range: str
    source: str


def part_sheets(file: FileNode, source: Source) -> tuple[PartSheet, ...]:
    """The parts of a file in their order; a part builds on parts of the same file.

    Parameters
    ----------
    file : FileNode
        A file without mistakes.
    source : Source
        Its text.
    """
    parts = {each.name.text: each for each in file.statements if isinstance(each, PartNode)}
    return tuple(_sheet(part, parts, source) for part in parts.values())


def remark_above(source: Source, line: int) -> tuple[str, str, str]:
    """What a part stands for, the range of its figures and where they come from."""
    lines: list[str] = []
    above = line - 1
    while above >= 1 and source.line_text(above).startswith("#"):
        lines.insert(0, source.line_text(above).removeprefix("#").strip())
        above -= 1
    pieces = dict.fromkeys(HEADS, "")
    head = ""
    for text in lines:
        begins = re.match(r"(Range|Source):\s*", text)
        if begins:
            head, text = begins[1], text[begins.end() :]
        pieces[head] = f"{pieces[head]} {text}".strip()
    return pieces[""], pieces["Range"], pieces["Source"]


def _sheet(part: PartNode, parts: Mapping[str, PartNode], source: Source) -> PartSheet:
    chain = [part]
    while chain[-1].model.text in parts:
        chain.append(parts[chain[-1].model.text])
    figures: dict[str, str] = {}
    for each in reversed(chain):
        figures |= {entry.name.text: _values(entry) for entry in each.body.entries}
    what, range_, origin = remark_above(source, part.span.line)
    model = chain[-1].model.text
    return PartSheet(part.name.text, model, part.model.text, figures, what, range_, origin)


def _values(entry: Entry) -> str:
    return " ".join(entry.span.text.removeprefix(entry.name.text).split())
