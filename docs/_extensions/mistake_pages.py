"""Sphinx extension: the pages on mistakes, which lie beside the code, put among the others."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from written_pages import write_pages_into

from copperpath.report.mistake_pages import index_page, page_files


def shown(file: Path) -> str:
    """A page as it goes among the others: a wrong text gets its colours although it is wrong."""
    head, mark, tail = file.read_text(encoding="utf-8").partition("## Printed")
    return head.replace("```station\n", "```{code-block} station\n:force:\n\n") + mark + tail


def write_pages(app: Any) -> None:
    """Write mistakes/generated; files that did not change are left alone."""
    folder = Path(app.srcdir) / "mistakes" / "generated"
    texts = {f"{code}.md": shown(file) for code, file in page_files().items()}
    texts["index.md"] = index_page()
    write_pages_into(folder, texts)


def setup(app: Any) -> dict[str, bool]:
    """Hook into the build before the pages are read."""
    app.connect("builder-inited", write_pages)
    return {"parallel_read_safe": True}
