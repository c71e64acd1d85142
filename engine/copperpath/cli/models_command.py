"""What `copperpath models` does: models, libraries of parts, and single parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path

import click

from copperpath.build.include.libraries import file_of, libraries
from copperpath.build.include.paths import IncludeTrouble, read_text
from copperpath.catalogue import Catalogue
from copperpath.cli.commands import catalogue_with, must_be_readable
from copperpath.cli.exit_codes import GOOD
from copperpath.cli.say import say
from copperpath.report.models_screen import model_screen, models_screen
from copperpath.report.part_sheets import PartSheet, part_sheets
from copperpath.report.parts_screen import library_screen, part_screen
from copperpath_grammar import parse

Shelf = Mapping[str, Sequence[PartSheet]]
"""The parts of each library."""


def show_models(name: str | None, *, plugins: Sequence[Path]) -> int:
    """List what there is, or show one model, library or part."""
    must_be_readable(*plugins)
    catalogue = catalogue_with(plugins)
    if name is None:
        _show_all(catalogue)
        return GOOD
    if name in catalogue.names:
        model = catalogue.load(name)
        if not isinstance(model, type):
            raise click.ClickException(str(model))
        say(model_screen(model))
        return GOOD
    shelf = _shelf()
    if name in shelf:
        say(library_screen(name, shelf[name]))
        return GOOD
    for library, sheets in shelf.items():
        for sheet in sheets:
            if sheet.name == name:
                say(part_screen(library, sheet, _model_of(sheet, catalogue)))
                return GOOD
    parts = [sheet.name for sheets in shelf.values() for sheet in sheets]
    near = get_close_matches(name, [*catalogue.names, *shelf, *parts], n=1)
    hint = f"; did you mean `{near[0]}`?" if near else ""
    raise click.ClickException(
        f"there is no model, library or part `{name}`{hint}\n`copperpath models` lists them"
    )


def _show_all(catalogue: Catalogue) -> None:
    loaded = [catalogue.load(each) for each in catalogue.names]
    say(models_screen([model for model in loaded if isinstance(model, type)], _shelf()))
    for problem in loaded:
        if not isinstance(problem, type):
            say(f"{problem}\n", error=True)


def _shelf() -> Shelf:
    """The parts of all libraries that can be read; one that cannot is told where a file uses it."""
    found: dict[str, Sequence[PartSheet]] = {}
    for library, points in libraries().items():
        try:
            parsed = parse(read_text(file_of(points), f"library {library}"))
        except IncludeTrouble:
            continue
        if parsed.file is not None:
            found[library] = part_sheets(parsed.file, parsed.source)
    return found


def _model_of(sheet: PartSheet, catalogue: Catalogue) -> type | None:
    found = catalogue.load(sheet.model) if sheet.model in catalogue.names else None
    return found if isinstance(found, type) else None
