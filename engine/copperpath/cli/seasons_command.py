"""What `copperpath seasons` does. Heavy imports stay in the function."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from copperpath.cli.commands import (
    must_be_readable,
    must_have_case,
    read_station,
    refuse,
    run_told_like_mistakes,
)
from copperpath.cli.exit_codes import GOOD, STANDS
from copperpath.cli.say import say


def show_seasons(
    file: Path,
    *,
    count: int,
    seed: int,
    step_s: float,
    case: str,
    as_json: bool,
    plugins: Sequence[Path],
) -> int:
    """Load, run through the seasons and print; the exit code."""
    from copperpath.required import BASE

    must_be_readable(file, *plugins)
    loaded = read_station(file, plugins)
    if loaded.station is None:
        return refuse(file, loaded.diagnostics, as_json)
    must_have_case(loaded.station, case)
    station = loaded.station
    if case != BASE:
        station = next(each.station for each in station.cases if each.title == case)

    from copperpath.cli.progress import Waiting
    from copperpath.study.executors import choose_executor
    from copperpath.study.seasons import run_seasons

    with run_told_like_mistakes(station, step_s), Waiting() as waiting:
        found = run_seasons(
            station,
            case=case,
            count=count,
            seed=seed,
            step_s=step_s,
            executor=choose_executor(),
            say=waiting,
        )
    if as_json:
        from copperpath.report.seasons_json import seasons_json

        say(seasons_json(found))
    else:
        from copperpath.report.seasons_screen import seasons_screen

        say(seasons_screen(found))
    return GOOD if found.lasting.count == found.lasting.of else STANDS
