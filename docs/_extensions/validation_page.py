"""Sphinx extension: what was checked against the outside world, from the table that comes along."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from written_pages import write_pages_into

from copperpath.report.validation import read_validation
from copperpath.report.validation.page import validation_tables


def write_tables(app: Any) -> None:
    """Write validation/generated/tables.md; left alone if it did not change."""
    folder = Path(app.srcdir) / "validation" / "generated"
    write_pages_into(folder, {"tables.md": validation_tables(read_validation())})


def setup(app: Any) -> dict[str, bool]:
    """Hook into the build before the pages are read."""
    app.connect("builder-inited", write_tables)
    return {"parallel_read_safe": True}
