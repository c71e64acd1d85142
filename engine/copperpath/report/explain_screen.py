"""The screens of `copperpath explain`: what a mistake means, and which there are."""

from __future__ import annotations

import re
from collections.abc import Iterable

from copperpath.report.layout import paragraph
from copperpath.report.mistake_pages import MistakePage

BLOCK = re.compile(
    r"^```\w+\n(?P<fenced>.*?)^```$|^(?P<words>\S.*?)(?=\n\n|\Z)", re.MULTILINE | re.DOTALL
)
"""A fenced text or a paragraph."""


def explain_screen(page: MistakePage) -> str:
    """One page as plain text; the message stands as the command prints it."""
    lines = [page.code, "", *_plain(page.meaning), "", "Wrong", ""]
    lines += [*_plain(page.wrong.shown), "", "Printed", "", *page.printed.split("\n"), ""]
    lines += ["Right", "", *_plain(page.right.shown)]
    return "\n".join(lines) + "\n"


def mistakes_screen(groups: Iterable[tuple[str, Iterable[MistakePage]]]) -> str:
    """All codes under their headings."""
    lines: list[str] = []
    for group, pages in groups:
        lines += [group, *paragraph(", ".join(page.code for page in pages)), ""]
    lines += ["`copperpath explain CODE` says what one of them means and how it is mended."]
    return "\n".join(lines) + "\n"


def _plain(markdown: str) -> list[str]:
    """Paragraphs filled, fenced texts set in; the pages use no more of Markdown than that."""
    lines: list[str] = []
    for block in BLOCK.finditer(markdown):
        lines += [""] if lines else []
        if block["fenced"] is None:
            lines += paragraph(block["words"], indent="")
        else:
            lines += [f"  {line}".rstrip() for line in block["fenced"].rstrip().split("\n")]
    return lines
