"""What the commands for authors of models do. Heavy imports stay inside the functions."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from copperpath.cli.commands import must_be_readable
from copperpath.cli.exit_codes import GOOD, STANDS
from copperpath.cli.say import say

if TYPE_CHECKING:
    from copperpath.plugin_api import Model


def conform_model(
    name: str, *, plugins: Sequence[Path], draws: int, seed: int, as_json: bool
) -> int:
    """Run the suite on one model and print what it found; the exit code."""
    must_be_readable(*plugins)
    model = _class_named(name, plugins)

    from copperpath.cli.progress import Waiting
    from copperpath.conformance import examine

    with Waiting() as waiting:
        examination = examine(model, draws=draws, seed=seed, progress=waiting)
    if as_json:
        from copperpath.report.json import conform_json

        say(conform_json(examination))
    else:
        from copperpath.report.conform_screen import conform_screen

        say(conform_screen(examination))
    return GOOD if examination.passed else STANDS


def scaffold_package(folder: Path, name: str) -> int:
    """Write a new package and say what to do with it; the exit code."""
    from copperpath.catalogue import installed_catalogue
    from copperpath.cli.scaffold import ScaffoldProblem, write_scaffold

    try:
        files = write_scaffold(folder, name, installed_catalogue().names)
    except ScaffoldProblem as problem:
        raise click.ClickException(str(problem)) from problem
    except OSError as problem:
        raise click.ClickException(f"{folder} cannot be written: {problem.strerror}") from problem
    lines = ["written:", *(f"  {file}" for file in files), "", "to try it:"]
    lines += [f"  cd {folder}", "  pip install -e '.[tests]'", "  pytest"]
    lines += [f"  copperpath conform {name}", f"  copperpath models {name}"]
    say("\n".join(lines) + "\n")
    return GOOD


def _class_named(name: str, plugins: Sequence[Path]) -> type[Model]:
    """The class of that name, its declarations in order or not."""
    from copperpath.catalogue import PluginProblem, installed_catalogue

    catalogue = installed_catalogue()
    for path in plugins:
        catalogue = catalogue.with_path(path)
    if name not in catalogue.offers:
        problems = [str(problem) for problem in catalogue.problems]
        near = get_close_matches(name, catalogue.names, n=1)
        hint = f"; did you mean `{near[0]}`?" if near else ""
        raise click.ClickException(
            "\n".join(
                [f"there is no model `{name}`{hint}", *problems, "`copperpath models` lists them"]
            )
        )
    model = catalogue.unchecked(name)
    if isinstance(model, PluginProblem):
        raise click.ClickException(str(model))
    return model
