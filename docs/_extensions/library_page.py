"""Sphinx extension: the tables of parts, made from the part files that come along."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

from written_pages import write_pages_into

from copperpath.report.library_page import library_sections
from copperpath.report.part_sheets import PartSheet, part_sheets
from copperpath_grammar import parse

PACKAGE = "copperpath_plugins.library"


def read_files() -> dict[str, tuple[PartSheet, ...]]:
    """The parts of each file by the name that stands behind `include library`."""
    found: dict[str, tuple[PartSheet, ...]] = {}
    for place in sorted(files(PACKAGE).iterdir(), key=lambda each: each.name):
        if place.name.endswith(".station"):
            parsed = parse(place.read_text(encoding="utf-8"), place.name)
            assert parsed.file is not None, place.name
            name = place.name.removesuffix(".station")
            found[name] = part_sheets(parsed.file, parsed.source)
    return found


def write_tables(app: Any) -> None:
    """Write library/generated/tables.md; left alone if it did not change."""
    folder = Path(app.srcdir) / "library" / "generated"
    write_pages_into(folder, {"tables.md": library_sections(read_files())})


def setup(app: Any) -> dict[str, bool]:
    """Hook into the build before the pages are read."""
    app.connect("builder-inited", write_tables)
    return {"parallel_read_safe": True}
