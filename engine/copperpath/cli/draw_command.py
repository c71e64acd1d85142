"""`copperpath draw`: the one-line diagram of a station, written to a file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from copperpath.cli.commands import all_rules, station_of
from copperpath.cli.exit_codes import GOOD, WRONG
from copperpath.cli.say import say
from copperpath.cli.trouble import in_width


def draw_station(file: Path, *, output: Path, case: str, plugins: Sequence[Path]) -> int:
    """Load, draw and say on which sheet; the exit code."""
    from copperpath.cli.progress import Waiting
    from copperpath.drawing.page import PictureProblem, check_picture_path
    from copperpath.inquiry.judge import RuleFailedError

    try:
        check_picture_path(output)
        station = station_of(file, plugins, case)
        if station is None:
            return WRONG
        with Waiting() as waiting:
            waiting("reading fonts")
            from copperpath.drawing.look import settled

            with settled():
                from copperpath.drawing.one_line.draw import draw_one_line

                sheet = draw_one_line(station, output, all_rules(), case=case, progress=waiting)
    except PictureProblem as problem:
        raise click.ClickException(str(problem)) from problem
    except RuleFailedError as problem:
        raise click.ClickException(in_width(problem)) from problem
    say(f"{output}: one-line diagram on {sheet.name}, letters of {sheet.letters_pt:g} pt\n")
    return GOOD
