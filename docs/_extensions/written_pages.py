"""What the extensions share that write pages before Sphinx reads them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path


def write_pages_into(folder: Path, texts: Mapping[str, str]) -> None:
    """Write each text under its name and take away what else is there; files that did not change
    are left alone, so that Sphinx does not read them again."""
    for stale in set(folder.rglob("*.md")) - {folder / name for name in texts}:
        stale.unlink()
    for name, text in texts.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")
