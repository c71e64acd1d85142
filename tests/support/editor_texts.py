"""Texts with a `|` where the cursor stands, read as an editor's server reads them."""

from __future__ import annotations

from pathlib import Path

from copperpath.catalogue import installed_catalogue
from copperpath.editor.completion import complete
from copperpath.editor.reading import Reading, read

CATALOGUE = installed_catalogue()


def at_cursor(text: str, folder: Path | None = None) -> tuple[Reading, int]:
    """The text without its one `|`, and where that stood."""
    assert text.count("|") == 1
    return read(text.replace("|", ""), "x.station", folder, CATALOGUE), text.index("|")


def reading_of(text: str, folder: Path | None = None) -> Reading:
    """A text without a cursor."""
    return read(text, "x.station", folder, CATALOGUE)


def proposed(text: str, folder: Path | None = None) -> list[str]:
    """The labels that completion proposes at the `|`."""
    return [each.label for each in complete(*at_cursor(text, folder)).suggestions]


def with_first(text: str, label: str) -> str:
    """The text after the proposal of that label is taken."""
    reading, offset = at_cursor(text)
    found = complete(reading, offset)
    chosen = next(each for each in found.suggestions if each.label == label)
    plain = reading.source.text
    return plain[: found.start] + (chosen.insert or chosen.label) + plain[found.end :]
