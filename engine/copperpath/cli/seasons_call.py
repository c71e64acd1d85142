"""How `copperpath seasons` is called."""

from __future__ import annotations

from pathlib import Path

import click

from copperpath.cli.options import FILE, JSON, PLUGINS
from copperpath.cli.step_option import StepLength


@click.command(short_help="Follow a station through many random seasons: how many last?")
@FILE
@click.option(
    "--count",
    type=click.IntRange(1, 100_000),
    default=500,
    show_default=True,
    help="How many seasons.",
)
@click.option(
    "--seed",
    type=click.IntRange(0, 900_000_000),
    default=1,
    show_default=True,
    help="The first season has this seed, the next the number after it; a seed draws the same "
    "weather on every machine.",
)
@click.option(
    "--step",
    type=StepLength(),
    default="1h",
    show_default=True,
    help="Length of a time step, between 1s and 1h, such as 10min.",
)
@click.option(
    "--case",
    metavar="TITLE",
    default="base",
    help="Run this case in place of the station as it stands.",
)
@JSON
@PLUGINS
def seasons(
    file: Path,
    count: int,
    seed: int,
    step: float,
    case: str,
    as_json: bool,
    plugins: tuple[Path, ...],
) -> int:
    """Follow the station in FILE through many seasons with random weather, and print in how many
    of them it lasts, how low charge comes, and when a load is first short.

    The days are drawn about the means that FILE gives with `sky`, `air` and `rime`. Exits 0 if it
    lasts in every season, 1 if it does not, 2 if the file or the call is wrong.
    """
    from copperpath.cli.seasons_command import show_seasons

    return show_seasons(
        file, count=count, seed=seed, step_s=step, case=case, as_json=as_json, plugins=plugins
    )
