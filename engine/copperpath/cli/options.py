"""What several commands take, said once."""

from __future__ import annotations

from pathlib import Path

import click

from copperpath.cli.step_option import StepLength

FILE = click.argument("file", type=click.Path(path_type=Path, readable=False))
PLUGINS = click.option(
    "--plugin",
    "plugins",
    multiple=True,
    type=click.Path(path_type=Path, readable=False),
    metavar="PATH",
    help="A Python file with further models; it is run, so name only files you trust. May be "
    "given several times.",
)
STEP = click.option(
    "--step",
    type=StepLength(),
    default="60s",
    show_default=True,
    help="Length of a time step, between 1s and 1h, such as 30s or 5min.",
)
PLOT = click.option(
    "--plot",
    type=click.Path(path_type=Path, readable=False),
    metavar="FILE",
    help="Draw a picture of it to FILE (.svg, .png or .pdf).",
)
JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for programs.")
