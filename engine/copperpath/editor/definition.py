"""Where a name is declared, and all places where it is written."""

from __future__ import annotations

import os

from copperpath.editor.complete_statements import SEPARATORS
from copperpath.editor.cursor import cursor_at, token_at
from copperpath.editor.occurrences import occurrence_at, occurrences_in
from copperpath.editor.reading import Reading
from copperpath.editor.shared import LIBRARY
from copperpath.editor.symbols import places_of
from copperpath_grammar.nodes import IncludeNode
from copperpath_grammar.source import Span


def definitions(reading: Reading, offset: int) -> list[Span]:
    """Where the name at an offset is declared; a case may declare one anew."""
    found = occurrence_at(reading, offset)
    if found is None:
        return _included_at(reading, offset) or _declared_for(reading, offset)
    places = places_of(occurrences_in(reading), found.symbol)
    return [each.span for each in places if each.whole is not None]


def _included_at(reading: Reading, offset: int) -> list[Span]:
    """The beginning of the file that an `include` line here names."""
    file = reading.parsed.file
    for node in file.statements if file is not None else ():
        if isinstance(node, IncludeNode) and node.span.start <= offset <= node.span.end:
            written = node.path.value
            beside = os.path.join(os.path.dirname(reading.source.name), written)
            name = f"{LIBRARY}{written}" if node.library else os.path.normpath(beside)
            return [Span(source, 0, 0) for source in reading.shared if source.name == name]
    return []


def _declared_for(reading: Reading, offset: int) -> list[Span]:
    """Where the name in a line that cannot be read yet is declared."""
    token = token_at(reading, offset)
    if token is None:
        return []
    cursor, outline, name = cursor_at(reading, token.end_pos or 0), reading.outline, str(token)
    found = None
    if cursor.line and cursor.line[-1].type == "COLON":
        found = outline.part(name) or outline.assembly(name)
    elif cursor.line and cursor.line[-1].type in SEPARATORS:
        found = outline.device(name, cursor.owner)
    return [Span(found.source, found.start, found.start + len(name))] if found is not None else []


def references(reading: Reading, offset: int, *, declarations: bool) -> list[Span]:
    """Everywhere the name at an offset is written, with or without where it is declared."""
    found = occurrence_at(reading, offset)
    if found is None:
        return []
    places = places_of(occurrences_in(reading), found.symbol)
    return [each.span for each in places if declarations or each.whole is None]
