"""A new name for a device, a part, a named value, an assembly, a kit or a case, across the file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from copperpath.editor.mistakes import mistakes_in
from copperpath.editor.occurrences import occurrence_at, occurrences_in
from copperpath.editor.outline import case_owner
from copperpath.editor.reading import Reading, read
from copperpath.editor.symbols import Occurrence, Symbol, places_of
from copperpath_grammar.source import Span

_NAME = re.compile(r"[^\W\d]\w*")
_JOINING = ("at", "from", "to", "on", "every", "within", "of", "otherwise", "and")
_WORDS = {
    "device": "device",
    "part": "part",
    "value": "named value",
    "assembly": "assembly",
    "case": "case",
    "terminal": "terminal",
}


class RenameRefused(Exception):
    """Why a name cannot be changed like this, in words for people."""


@dataclass(frozen=True, slots=True)
class Edit:
    """A span and what is to stand there."""

    span: Span
    text: str


def renamable_at(reading: Reading, offset: int) -> Span:
    """The name at an offset.

    Raises
    ------
    RenameRefused
        If there is none that this file gives.
    """
    return _occurrence(reading, offset).span


def rename(reading: Reading, offset: int, name: str) -> list[Edit]:
    """The edits that give the thing at an offset another name everywhere in the file.

    Raises
    ------
    RenameRefused
        If there is nothing to rename, or the new name will not do.
    """
    here = _occurrence(reading, offset)
    symbol = here.symbol
    if name == symbol.name:
        return []
    occurrences = occurrences_in(reading)
    _check_name(reading, occurrences, symbol, name)
    places = places_of(occurrences, symbol)
    for each in places:
        if each.span.source.name != reading.source.name:
            raise RenameRefused(
                f"`{symbol.name}` is written in {each.span.source.name} as well "
                f"(line {each.span.line}); names are changed in one file alone"
            )
    edits = [Edit(each.span, name) for each in places]
    text = applied(reading.source.text, edits)
    after = read(text, reading.source.name, reading.folder, reading.catalogue)
    if not _same_meaning(reading, after, symbol, name):
        raise RenameRefused(f"with the name `{name}` the file would mean something else")
    return edits


def applied(text: str, edits: Sequence[Edit]) -> str:
    """The text after the edits."""
    for edit in sorted(edits, key=lambda each: each.span.start, reverse=True):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return text


def _occurrence(reading: Reading, offset: int) -> Occurrence:
    found = occurrence_at(reading, offset)
    if found is None:
        raise RenameRefused("here stands no name that this file gives")
    if reading.parsed.diagnostics:
        line = reading.parsed.diagnostics[0].span.line
        raise RenameRefused(
            f"line {line} cannot be read, so the name may stand there unseen; mend it first"
        )
    return found


def _check_name(
    reading: Reading, occurrences: Sequence[Occurrence], symbol: Symbol, name: str
) -> None:
    if symbol.space == "case":
        if '"' in name or "\n" in name or not name.strip():
            raise RenameRefused("the title of a case is a text without quotes and line breaks")
    elif not _NAME.fullmatch(name):
        raise RenameRefused(
            f"`{name}` is no name: a name is letters, digits and `_`, and begins with a letter"
        )
    elif name in _JOINING:
        raise RenameRefused(f"`{name}` joins values and is no name")
    if symbol.space == "part" and name in reading.catalogue.offers:
        raise RenameRefused(f"`{name}` is a model already")
    for each in occurrences:
        other = each.symbol
        near = other.owner in (symbol.owner, "") or symbol.owner == ""
        alike = other.name.lower() == name.lower()
        if other != symbol and other.space == symbol.space and near and alike:
            what = _WORDS[symbol.space]
            raise RenameRefused(f"there is a {what} `{other.name}` already (line {each.span.line})")


def _same_meaning(before: Reading, after: Reading, symbol: Symbol, name: str) -> bool:
    """Whether nothing but the one name has changed: every name means what it meant, and the
    file has as many mistakes as before."""
    renamed = [_renamed(each.symbol, symbol, name) for each in occurrences_in(before)]
    if renamed != [each.symbol for each in occurrences_in(after)]:
        return False
    codes = [
        sorted(mistake.code for found in mistakes_in(each).values() for mistake in found)
        for each in (before, after)
    ]
    return codes[0] == codes[1]


def _renamed(each: Symbol, symbol: Symbol, name: str) -> Symbol:
    if each == symbol:
        return replace(each, name=name)
    if symbol.space == "assembly" and each.owner == symbol.name:
        return replace(each, owner=name)
    if symbol.space == "case" and each.owner == case_owner(symbol.name):
        return replace(each, owner=case_owner(name))
    return each
