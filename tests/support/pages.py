"""Station texts and commands shown in the pages, and running them as a reader would."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from textwrap import dedent

from copperpath_grammar.formatter import format_text

ROOT = Path(__file__).parents[2]
STATIONS = ROOT / "docs" / "stations"
FENCE = re.compile(
    r"(?:^<!-- file: (?P<file>[\w./]+) -->\n)?"
    r"^```(?P<language>station|console)\n(?P<text>.*?)^```$",
    re.MULTILINE | re.DOTALL,
)
NUMBER = re.compile(r"-?\d+(?:\.\d+)?e[-+]\d+|(?<![A-Za-z_])\d+(?:\.\d+)?")
CLOCK = re.compile(r"\b(\d\d):(\d\d)\b")
ROUNDING = 1e-3
"""Figures with an exponent, such as 3e-12 left over, claim no more than that they are small."""


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block of a page: its language, its text, the file it stands for, where it is."""

    page: Path
    language: str
    text: str
    file: str
    start: int
    """Offset of its text in the page."""

    @property
    def line(self) -> int:
        """Line of the page on which the text begins."""
        return self.page.read_text(encoding="utf-8")[: self.start].count("\n") + 1

    def __str__(self) -> str:
        return f"{self.page.relative_to(ROOT)}:{self.line}"


def pages() -> list[Path]:
    """Every page written by hand."""
    docs = sorted(ROOT.glob("docs/**/*.md"))
    kept = [page for page in docs if not {"generated", "_build"} & set(page.parts)]
    return [ROOT / "README.md", ROOT / "DEVELOPERS.md", *kept]


def blocks(page: Path) -> Iterator[Block]:
    """The station and console blocks of a page, in order."""
    for found in FENCE.finditer(page.read_text(encoding="utf-8")):
        yield Block(
            page, found["language"], found["text"], found["file"] or "", found.start("text")
        )


def is_whole(block: Block) -> bool:
    """True if a station block is a whole file, not a piece of one."""
    return re.search(r'^station "', block.text, re.MULTILINE) is not None


def commands(block: Block) -> Iterator[tuple[str, str]]:
    """The commands of a console block, each with the output shown under it."""
    command, shown = "", []
    for line in block.text.splitlines():
        if line.startswith("$ "):
            if command:
                yield command, "\n".join(shown)
            command, shown = line[2:], []
        else:
            shown.append(line)
    if command:
        yield command, "\n".join(shown)


def outcome(command: str, folder: Path) -> str:
    """What a command prints, both streams together, run in a folder with our own `copperpath`."""
    here = Path(sys.executable).parent
    environment = {**os.environ, "PATH": f"{here}{os.pathsep}{os.environ['PATH']}", "COLUMNS": "80"}
    done = subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        timeout=300,
        check=False,
    )
    lines = done.stdout.rstrip().splitlines()
    # The first run on a machine says that it compiles; a page shows the later ones.
    return "\n".join(line.rstrip() for line in lines if not line.startswith("preparing"))


def alike(shown: str, printed: str) -> bool:
    """True if the words are the same and the numbers nearly so.

    Releases of the numerical libraries differ in the last digits: a number may be off by 2 % or
    by two in its last digit.
    """
    shown, printed = _words(shown), _words(printed)
    if NUMBER.sub("#", shown) != NUMBER.sub("#", printed):
        return False
    pairs = zip(NUMBER.findall(shown), NUMBER.findall(printed), strict=True)
    return all(_near(one, other) for one, other in pairs)


def _words(text: str) -> str:
    """The text with every run of blanks made single, as columns shift with their numbers, and
    with clock times as hours, as 11:59 is near 12:00."""
    text = CLOCK.sub(lambda found: f"{int(found[1]) + int(found[2]) / 60.0:.2f}", text)
    return "\n".join(" ".join(line.split()) for line in text.splitlines()).strip()


def _near(shown: str, printed: str) -> bool:
    if "e" in shown:
        return abs(float(printed)) < ROUNDING
    allowed = 2.0 * 10.0 ** -len(shown.partition(".")[2]) + 0.02 * abs(float(shown))
    return abs(float(shown) - float(printed)) <= allowed


def canonical(block: Block) -> str:
    """The canonical form of a station block: a file, some statements of one, or some entries."""
    alone = format_text(block.text)
    if not alone.diagnostics:
        return alone.text
    wrapped = format_text(f"part shown : model {{\n{block.text}}}\n")
    assert not wrapped.diagnostics, str(block)
    return dedent("".join(wrapped.text.splitlines(keepends=True)[1:-1]))


def updated(page: Path, folder: Path) -> str:
    """The page's text with the output of every command taken anew, and its stations in form."""
    text = page.read_text(encoding="utf-8")
    for block in reversed(list(blocks(page))):
        if block.language == "station":
            end = block.start + len(block.text)
            text = text[: block.start] + canonical(block) + text[end:]
        if block.language == "console":
            parts = [f"$ {command}\n{outcome(command, folder)}" for command, _ in commands(block)]
            fresh = "".join(part.rstrip("\n") + "\n" for part in parts)
            text = text[: block.start] + fresh + text[block.start + len(block.text) :]
    return text
