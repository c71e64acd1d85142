"""Sphinx extension: a page for every installed wiring rule, made from its declarations."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from copperpath.inquiry.rule_catalogue import installed_rules
from copperpath.report.rule_page import rule_page, rules_index


def write_pages(app: Any) -> None:
    """Write rules/generated; files that did not change are left alone."""
    folder = Path(app.srcdir) / "rules" / "generated"
    folder.mkdir(parents=True, exist_ok=True)
    rules = installed_rules().rules
    texts = {f"{rule.name}.md": rule_page(rule) for rule in rules}
    texts["index.md"] = rules_index(rules)
    for stale in set(folder.glob("*.md")) - {folder / name for name in texts}:
        stale.unlink()
    for name, text in texts.items():
        file = folder / name
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")


def setup(app: Any) -> dict[str, bool]:
    """Hook into the build before the pages are read."""
    app.connect("builder-inited", write_pages)
    return {"parallel_read_safe": True}
