"""What `copperpath sun` does."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from copperpath.cli.commands import must_be_readable, read_station, refuse, told_like_mistakes
from copperpath.cli.exit_codes import GOOD
from copperpath.cli.say import say


def show_sun(
    file: Path, *, day: date | None, plot: Path | None, as_json: bool, plugins: Sequence[Path]
) -> int:
    """Load, work the table out, print it and draw it; the exit code."""
    from copperpath.cli.progress import Waiting
    from copperpath.drawing.page import PictureProblem, check_picture_path
    from copperpath.study.sun_yield import NoTable, sun_table

    must_be_readable(file, *plugins)
    try:
        if plot is not None:
            check_picture_path(plot)
        loaded = read_station(file, plugins)
        if loaded.station is None:
            return refuse(file, loaded.diagnostics, as_json)
        station = loaded.station
        with told_like_mistakes(station), Waiting() as waiting:
            table = sun_table(station, day, waiting)
            if plot is not None:
                from copperpath.drawing.sun_picture import save_sun_picture

                waiting("drawing")
                save_sun_picture(table, plot)
    except NoTable as problem:
        raise click.ClickException(f"{file}: {problem}") from problem
    except PictureProblem as problem:
        raise click.ClickException(str(problem)) from problem
    if as_json:
        from copperpath.report.sun_json import sun_json

        say(sun_json(table))
    else:
        from copperpath.report.sun_screen import sun_screen

        say(sun_screen(table))
    return GOOD
