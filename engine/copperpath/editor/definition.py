"""Where a name is declared, and all places where it is written."""

from __future__ import annotations

from copperpath.editor.occurrences import occurrence_at, occurrences_in
from copperpath.editor.reading import Reading
from copperpath.editor.symbols import places_of
from copperpath_grammar.source import Span


def definitions(reading: Reading, offset: int) -> list[Span]:
    """Where the name at an offset is declared; a case may declare one anew."""
    found = occurrence_at(reading, offset)
    if found is None:
        return []
    places = places_of(occurrences_in(reading), found.symbol)
    return [each.span for each in places if each.whole is not None]


def references(reading: Reading, offset: int, *, declarations: bool) -> list[Span]:
    """Everywhere the name at an offset is written, with or without where it is declared."""
    found = occurrence_at(reading, offset)
    if found is None:
        return []
    places = places_of(occurrences_in(reading), found.symbol)
    return [each.span for each in places if declarations or each.whole is None]
