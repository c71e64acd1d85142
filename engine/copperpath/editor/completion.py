"""What may be written at a place, in a text that need not be in order."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from copperpath.build.include.libraries import libraries
from copperpath.editor.complete_entries import complete_entry
from copperpath.editor.complete_statements import case_titles, complete_statement, statement_words
from copperpath.editor.cursor import Cursor, cursor_at
from copperpath.editor.reading import Reading
from copperpath.editor.suggestion import Suggestion, without_doubles
from copperpath_grammar.pieces import INSIDE
from copperpath_grammar.statement_words import STATEMENT_WORDS

KINDS = ("source", "converter", "storage", "block", "load")
MOST_FILES, DEEPEST = 200, 4


@dataclass(frozen=True, slots=True)
class Completion:
    """Proposals, and the offsets of what each would take the place of."""

    start: int
    end: int
    suggestions: tuple[Suggestion, ...]


def complete(reading: Reading, offset: int) -> Completion:
    """Everything that may be written at an offset."""
    cursor = cursor_at(reading, offset)
    found = [] if cursor.silent else _found(reading, cursor)
    return Completion(cursor.start, offset, tuple(without_doubles(found)))


def _found(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    if cursor.quoted:
        return _quoted(reading, cursor)
    frame = cursor.frame
    if frame is None:
        if not cursor.line:
            return statement_words(STATEMENT_WORDS)
        return complete_statement(reading, cursor)
    inside = INSIDE.get(frame.header[0].type if frame.header else "")
    if inside is None:
        return complete_entry(reading, cursor)
    if not cursor.line:
        begin = statement_words(_written(inside))
        return begin + (complete_entry(reading, cursor) if frame.word == "case" else [])
    if cursor.line[0].type in inside:
        return complete_statement(reading, cursor)
    return complete_entry(reading, cursor) if frame.word == "case" else []


def _written(types: frozenset[str]) -> tuple[str, ...]:
    """Terminals of the grammar as words, in the order in which they usually stand."""
    found = []
    for word in (*STATEMENT_WORDS, "expose", "change", "without"):
        if ("KIND" if word in KINDS else word.upper()) in types:
            found.append(word)
    return tuple(found)


def _quoted(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    """What may stand in quotes: titles of cases, and files."""
    line = cursor.line
    words = [str(token) for token in line]
    if words[:1] == ["require"] and "case" in words:
        return _closed(reading, cursor, case_titles(reading))
    if words == ["include", "library"]:
        found = [Suggestion(name, "value", "library") for name in libraries()]
        return _closed(reading, cursor, found)
    if words == ["include"]:
        return _closed(reading, cursor, _files(reading, ".station"))
    if words == ["sky"]:
        return _closed(reading, cursor, _files(reading, ".csv"))
    return []


def _closed(reading: Reading, cursor: Cursor, found: list[Suggestion]) -> list[Suggestion]:
    """With a closing quote, if there is none on the line."""
    begin = cursor.start + len(cursor.word)
    rest = reading.source.text[begin:].partition("\n")[0]
    if '"' in rest:
        return found
    return [
        Suggestion(each.label, each.sort, each.detail, insert=f'{each.label}"') for each in found
    ]


def _files(reading: Reading, ending: str) -> list[Suggestion]:
    """Files in the station's folder and below it, not too deep."""
    own = Path(reading.source.name).name
    found = [path for path in _walk(reading.folder, ending) if path != own]
    return [Suggestion(path, "value", "file") for path in sorted(found)]


def _walk(folder: Path | None, ending: str) -> Iterator[str]:
    if folder is None:
        return
    seen = 0
    for place, folders, files in os.walk(folder):
        below = Path(place).relative_to(folder)
        if len(below.parts) >= DEEPEST:
            folders.clear()
        folders[:] = [each for each in folders if not each.startswith(".")]
        for file in files:
            seen += 1
            if seen > MOST_FILES:
                return
            if file.endswith(ending):
                yield (below / file).as_posix()
