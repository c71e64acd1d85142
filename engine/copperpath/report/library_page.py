"""Tables of the parts that come along, Markdown, made from the part files for the docs."""

from __future__ import annotations

from copperpath.report.part_sheets import PartSheet

COLUMNS = ("part", "what it stands for", "figures", "mass", "range", "source")


def library_table(sheets: tuple[PartSheet, ...]) -> str:
    """One file's parts, a row each.

    Parameters
    ----------
    sheets : tuple of PartSheet
        As read from the file.
    """
    head = f"| {' | '.join(COLUMNS)} |\n|{'---|' * len(COLUMNS)}\n"
    return head + "".join(_row(sheet) for sheet in sheets)


def library_sections(files: dict[str, tuple[PartSheet, ...]]) -> str:
    """Every file's table under its name."""
    sections = [f"## `{name}`\n\n{library_table(sheets)}" for name, sheets in files.items()]
    return "\n".join(sections)


def _row(sheet: PartSheet) -> str:
    figures = "; ".join(
        f"{name} {value}".strip() for name, value in sheet.figures.items() if name != "mass"
    )
    cells = (
        f"`{sheet.name}` : `{sheet.built_on}`",
        sheet.what,
        figures,
        sheet.figures.get("mass", "not given"),
        sheet.range,
        sheet.source,
    )
    return f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |\n"
