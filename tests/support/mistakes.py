"""What a page on a mistake shows, tried: the diagnostics that its texts give."""

from __future__ import annotations

import importlib
import pkgutil
import sys
from collections.abc import Callable
from contextlib import chdir
from pathlib import Path

import copperpath.build
import copperpath_grammar
from copperpath.build import build
from copperpath.build.include.libraries import libraries
from copperpath.catalogue import Catalogue, installed_catalogue
from copperpath.pipeline import load
from copperpath.report.mistake_pages import Example
from copperpath_grammar import Diagnostic, decode, parse

NAME = "bog.station"
AND_SO_ON = "# ... and so on\n"
"""Stands in a page for a great many lines like the one above it."""
LAMP = """
from copperpath.plugin_api import Model, Parameter, Terminal


class Lamp(Model):
    interface = INTERFACE
    name = "lamp"
    kind = "load"
    summary = "a lamp"
    parameters = (
        Parameter("amps", "current", "what it draws", required=True, example="0.2 A"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = DERIVED

    @staticmethod
    def derive(p):
        return {}

    @staticmethod
    def law(v, x, d, p):
        return (p.amps,)
"""
Answer = Callable[[str, Path], tuple[Diagnostic, ...]]


def mistake_classes() -> dict[str, list[type[Diagnostic]]]:
    """All diagnostics of the language and of building, by code."""
    found: dict[str, list[type[Diagnostic]]] = {}
    for package in (copperpath_grammar, copperpath.build):
        for module in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
            for each in vars(importlib.import_module(module.name)).values():
                own = isinstance(each, type) and each.__module__ == module.name
                if own and issubclass(each, Diagnostic) and each.code:
                    found.setdefault(each.code, []).append(each)
    return found


def mistakes_of(code: str, example: Example, folder: Path) -> tuple[Diagnostic, ...]:
    """What is said about the text of an example; files beside it are put into the folder."""
    for name, text in example.beside.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    if code in SPECIAL:
        return SPECIAL[code](example.station, folder)
    if code.startswith("syntax/"):
        return parse(example.station, NAME).diagnostics
    (folder / NAME).write_text(example.station, encoding="utf-8")
    with chdir(folder):  # the messages name the file as it is named here
        return load(NAME).diagnostics


def _with_many_lines(count: int) -> Answer:
    """Reading a text in which the line before `# ... and so on` comes that many times more."""

    def answer(text: str, folder: Path) -> tuple[Diagnostic, ...]:
        before, mark, after = text.partition(AND_SO_ON)
        last = before.splitlines(keepends=True)[-1]
        return parse(before + (count * last if mark else "") + after, NAME).diagnostics

    return answer


def _with_long_sum(text: str, folder: Path) -> tuple[Diagnostic, ...]:
    """Reading a text in which `+ ... +` stands for a sum of a hundred more lengths."""
    return parse(text.replace("+ ... +", "+" + 100 * " 1 m +"), NAME).diagnostics


def _as_bytes(text: str, folder: Path) -> tuple[Diagnostic, ...]:
    """The text as an old editor saves it, unless it says otherwise; `␀` stands for a zero byte."""
    encoding = "utf-8" if "UTF-8" in text else "latin-1"
    plain, problems = decode(text.replace("␀", "\0").encode(encoding), NAME)
    return problems or parse(plain, NAME).diagnostics


def _with_many_lamps(text: str, folder: Path) -> tuple[Diagnostic, ...]:
    """Building with four hundred more lamps like `lamp_1` in place of `# ... and so on`."""
    pair = "".join(line for line in text.splitlines(keepends=True) if "lamp_1" in line)
    lamps = [pair.replace("lamp_1", f"lamp_{number}") for number in range(2, 402)]
    return _built(text.replace(AND_SO_ON, "".join(lamps)), installed_catalogue())


def _with_boxes(text: str, folder: Path) -> tuple[Diagnostic, ...]:
    """Building with `box_2` to `box_21` in place of `# ... and so on`, each holding the next."""
    boxes = [
        f"assembly box_{number}() {{\n    kit inner : box_{number + 1} {{ }}\n"
        "    expose in -> inner.in\n}\n"
        for number in range(2, 22)
    ]
    return _built(text.replace(AND_SO_ON, "".join(boxes)), installed_catalogue())


def _with_long_names(text: str, folder: Path) -> tuple[Diagnostic, ...]:
    """Building with three hundred letters in place of `and_so_on`."""
    return _built(text.replace("and_so_on", 300 * "x"), installed_catalogue())


def _with_lamp(interface: int = 1, derived: str = "()") -> Answer:
    """Building with one more model, `lamp`, that has something wrong."""

    def answer(text: str, folder: Path) -> tuple[Diagnostic, ...]:
        words = LAMP.replace("INTERFACE", str(interface)).replace("DERIVED", derived)
        with chdir(folder):
            Path("lamp.py").write_text(words, encoding="utf-8")
            return _built(text, installed_catalogue().with_path(Path("lamp.py")))

    return answer


def _with_library(text: str, folder: Path) -> tuple[Diagnostic, ...]:
    """Building while a package is installed that lists a library `lamps` and does not bring it."""
    listed = folder / "lamps-1.0.dist-info"
    listed.mkdir(exist_ok=True)
    (listed / "METADATA").write_text("Metadata-Version: 2.1\nName: lamps\nVersion: 1.0\n")
    (listed / "entry_points.txt").write_text("[copperpath.parts]\nlamps = lamps:lamps.station\n")
    sys.path.append(str(folder))
    libraries.cache_clear()
    try:
        return _built(text, installed_catalogue())
    finally:
        sys.path.remove(str(folder))
        libraries.cache_clear()


def _built(text: str, catalogue: Catalogue) -> tuple[Diagnostic, ...]:
    parsed = parse(text, NAME)
    assert parsed.file is not None
    return parsed.diagnostics + build(parsed.file, parsed.source, catalogue, None).diagnostics


SPECIAL: dict[str, Answer] = {
    "syntax/not-utf8": _as_bytes,
    "syntax/not-text": _as_bytes,
    "syntax/file-too-long": _with_many_lines(20_000),
    "syntax/too-many-mistakes": _with_many_lines(100),
    "syntax/too-deep": _with_long_sum,
    "build/more-mistakes": _with_many_lamps,
    "build/kits-too-deep": _with_boxes,
    "build/name-too-long": _with_long_names,
    "build/broken-library": _with_library,
    "build/broken-model": _with_lamp(derived="('amps',)"),
    "build/other-version": _with_lamp(interface=99),
    "build/model-fails": _with_lamp(derived="('volts',)"),
}
"""Mistakes that need more than a text."""
