"""Sphinx extension: a page for every installed wiring rule, made from its declarations."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from written_pages import write_pages_into

from copperpath.inquiry.rule_catalogue import installed_rules
from copperpath.report.rule_page import rule_page, rules_index


def write_pages(app: Any) -> None:
    """Write rules/generated; files that did not change are left alone."""
    folder = Path(app.srcdir) / "rules" / "generated"
    rules = installed_rules().rules
    texts = {f"{rule.name}.md": rule_page(rule) for rule in rules}
    texts["index.md"] = rules_index(rules)
    write_pages_into(folder, texts)


def setup(app: Any) -> dict[str, bool]:
    """Hook into the build before the pages are read."""
    app.connect("builder-inited", write_pages)
    return {"parallel_read_safe": True}
