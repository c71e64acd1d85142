"""Reads the small tables of published values in `tests/outside/data`."""

from __future__ import annotations

import csv
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "outside" / "data"


def rows_of(name: str) -> list[dict[str, str]]:
    """Rows of a table by heading; each has a `source`."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    assert all(row["source"] for row in rows), name
    return rows
