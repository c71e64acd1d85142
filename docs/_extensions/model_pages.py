"""Sphinx extension: a page for every installed model, made from its declarations."""

from __future__ import annotations

from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

from written_pages import write_pages_into

from copperpath.report.model_page import index_page, model_page


def write_pages(app: Any) -> None:
    """Write models/generated; files that did not change are left alone."""
    folder = Path(app.srcdir) / "models" / "generated"
    points = sorted(entry_points(group="copperpath.models"), key=lambda point: point.name)
    models = [point.load() for point in points]
    texts = {f"{model.name}.md": model_page(model) for model in models}
    texts["index.md"] = index_page(models)
    write_pages_into(folder, texts)


def setup(app: Any) -> dict[str, bool]:
    """Hook into the build before the pages are read."""
    app.connect("builder-inited", write_pages)
    return {"parallel_read_safe": True}
