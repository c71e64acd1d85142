"""The canonical form of a text, as changes of only those lines that differ."""

from __future__ import annotations

from difflib import SequenceMatcher

from copperpath.editor.reading import Reading
from copperpath.editor.rename import Edit
from copperpath_grammar.formatter import format_text
from copperpath_grammar.source import Span


def format_edits(reading: Reading) -> list[Edit]:
    """What to change; nothing while a line cannot be read, as the mistakes are told anyway."""
    source = reading.source
    formatted = format_text(source.text, source.name)
    if formatted.diagnostics:
        return []
    old, new = source.text.splitlines(keepends=True), formatted.text.splitlines(keepends=True)
    starts = [0]
    for line in old:
        starts.append(starts[-1] + len(line))
    matcher = SequenceMatcher(None, old, new, autojunk=False)
    return [
        Edit(Span(source, starts[first], starts[last]), "".join(new[begin:end]))
        for tag, first, last, begin, end in matcher.get_opcodes()
        if tag != "equal"
    ]
