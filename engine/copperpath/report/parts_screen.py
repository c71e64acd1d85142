"""The screens of `copperpath models` for the libraries: what they hold, and what a part says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from copperpath.plugin_api import Model
from copperpath.report.declared import example_text
from copperpath.report.layout import paragraph
from copperpath.report.part_sheets import PartSheet


def shelf_lines(libraries: Mapping[str, Sequence[PartSheet]]) -> list[str]:
    """The names of all parts by library."""
    lines = ['parts with typical figures, taken with a line such as `include library "radios"`']
    longest = max((len(name) for name in libraries), default=0)
    for library, sheets in libraries.items():
        names = ", ".join(sheet.name for sheet in sheets)
        mark = f"  {library:<{longest}}  "
        lines += paragraph(names, indent=mark, hanging=" " * len(mark))
    return lines


def library_screen(library: str, sheets: Sequence[PartSheet]) -> str:
    """Every part of a library: what it stands for, and its figures."""
    lines = [f'library "{library}"']
    for sheet in sheets:
        lines += ["", *paragraph(f"{sheet.name} ({sheet.model}): {sheet.what}", indent="")]
        lines += paragraph(_figures(sheet))
    more = "`copperpath models PART` shows where a part's figures come from, and how it is written."
    return "\n".join([*lines, "", *paragraph(more, indent="")]) + "\n"


def part_screen(library: str, sheet: PartSheet, model: type[Model] | None) -> str:
    """All that one part says; `model` stands at the end of its chain, None if it is broken."""
    lines = paragraph(f'{sheet.name}, a part of library "{library}": {sheet.what}', indent="")
    lines += ["", f"A `{sheet.model}` with"]
    longest = max((len(name) for name in sheet.figures), default=0)
    for name, value in sheet.figures.items():
        mark = f"  {name:<{longest}}  "
        lines += paragraph(value, indent=mark, hanging=" " * len(mark))
    for head, text in (("What its kind is found with", sheet.range), ("Source", sheet.source)):
        lines += ["", head, *paragraph(text)] if text else []
    if model is not None:
        device = example_text(model, sheet.name, sheet.figures)
        lines += ["", "Written", f'  include library "{library}"', *paragraph(device)]
    more = (
        "What stands between the braces counts over the part's figures; "
        f"`copperpath models {sheet.model}` shows all that may stand there."
    )
    return "\n".join([*lines, "", *paragraph(more, indent="")]) + "\n"


def _figures(sheet: PartSheet) -> str:
    return "; ".join(f"{name} {value}".strip() for name, value in sheet.figures.items())
