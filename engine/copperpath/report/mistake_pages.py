"""The pages on mistakes: one Markdown file a code, in a `mistakes` folder beside the diagnostics.

`mistakes/FOLDER/NAME.md` is the page of `syntax/NAME` or `build/NAME`; the folder is the heading
under which it is listed. The documentation shows the files as they are, `copperpath explain`
prints them, and the tests run both examples of each.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import copperpath_grammar

ROOTS = {
    "syntax": Path(copperpath_grammar.__file__).parent / "mistakes",
    "build": Path(__file__).parents[1] / "build" / "mistakes",
}
"""Where the pages lie, by the first word of a code."""
SHAPE = re.compile(
    r"# `(?P<code>[^`]+)`\n\n(?P<meaning>.+?)\n\n"
    r"## Wrong\n\n(?P<wrong>.+?)\n\n"
    r"## Printed\n\n```text\n(?P<printed>.*?)```\n\n"
    r"## Right\n\n(?P<right>.+?)\n",
    re.DOTALL,
)
STATION = re.compile(r"^```station\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BESIDE = re.compile(r"^In `([\w./]+)`:\n\n```\w+\n(.*?)^```$", re.MULTILINE | re.DOTALL)


class Misshapen(Exception):
    """A page that does not have the parts it must have; only a mistake of ours makes one."""


@dataclass(frozen=True, slots=True)
class Example:
    """A part of a page that shows a station text, and the files that it needs beside it."""

    shown: str
    """The part as it is written, Markdown."""
    station: str
    beside: dict[str, str]


@dataclass(frozen=True, slots=True)
class MistakePage:
    """What a code means, a text that is refused, the message, and the text mended."""

    code: str
    file: Path
    meaning: str
    """Paragraphs, Markdown."""
    wrong: Example
    printed: str
    right: Example

    @property
    def group(self) -> str:
        """The heading it is listed under."""
        return self.file.parent.name.replace("_", " ").capitalize()

    @property
    def summary(self) -> str:
        """The first sentence, on one line."""
        paragraph = " ".join(self.meaning.split("\n\n")[0].split())
        return re.split(r"(?<=[.?]) (?=[A-Z`])", paragraph)[0]


def page_files() -> dict[str, Path]:
    """The file of each code, in the order in which the codes are listed."""
    return {
        f"{root}/{file.stem}": file
        for root, folder in ROOTS.items()
        for file in sorted(folder.glob("*/*.md"))
    }


def read_page(file: Path) -> MistakePage:
    """Read one page.

    Raises
    ------
    Misshapen
        If a part is missing.
    """
    found = SHAPE.fullmatch(file.read_text(encoding="utf-8"))
    if found is None:
        raise Misshapen(f"{file} needs its code, its meaning, `Wrong`, `Printed` and `Right`")
    return MistakePage(
        found["code"],
        file,
        found["meaning"],
        _example(found["wrong"], file),
        found["printed"].rstrip("\n"),
        _example(found["right"], file),
    )


def pages_by_group() -> Iterator[tuple[str, list[MistakePage]]]:
    """The pages under their headings."""
    groups: dict[Path, list[MistakePage]] = {}
    for file in page_files().values():
        groups.setdefault(file.parent, []).append(read_page(file))
    for pages in groups.values():
        yield pages[0].group, pages


def index_page() -> str:
    """The page that lists all codes, with the hidden table of contents that Sphinx wants."""
    parts = [
        "# Mistakes and their messages",
        "Every mistake that reading a station file can tell of: what it means, why it is refused, "
        "a text that has it and the text mended. `copperpath explain CODE` prints the same.",
    ]
    for group, pages in pages_by_group():
        rows = [f"| [`{page.code}`]({page.code}.md) | {page.summary} |" for page in pages]
        parts += [f"## {group}", "\n".join(["| code | |", "|---|---|", *rows])]
    names = "\n".join(page_files())
    return "\n\n".join(parts) + f"\n\n```{{toctree}}\n:hidden:\n\n{names}\n```\n"


def _example(shown: str, file: Path) -> Example:
    station = STATION.search(BESIDE.sub("", shown))
    if station is None:
        raise Misshapen(f"{file}: an example without a ```station block")
    return Example(shown, station[1], dict(BESIDE.findall(shown)))
