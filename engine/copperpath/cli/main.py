"""The `copperpath` command: reads the call, hands it to a command, turns mistakes into words.

Exit codes: 0 good; 1 a requirement, or a finding of level danger or fail, stands, or the station
runs down; 2 the file or the call is wrong; 3 a mistake of copperpath itself; 130 stopped by hand.
"""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from copperpath.cli.author_calls import CALLS
from copperpath.cli.day_option import Day
from copperpath.cli.exit_codes import GOOD, OURS, STOPPED, WRONG
from copperpath.cli.moment_option import Instant, Moment
from copperpath.cli.options import FILE, JSON, PLOT, PLUGINS, STEP
from copperpath.cli.say import ReaderGone, say
from copperpath.cli.seasons_call import seasons
from copperpath.cli.trouble import our_mistake, usage_words

if TYPE_CHECKING:
    from copperpath.netlist.instant import Column


def _version(context: click.Context, parameter: click.Parameter, wanted: bool) -> None:
    """Print the version; looked up only when asked for, as it takes a while."""
    if not wanted:
        return
    from importlib.metadata import version

    say(f"copperpath {version('copperpath')}\n")
    context.exit(GOOD)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_version,
    help="Show the version and exit.",
)
def command() -> None:
    """Does a radio station away from the mains stay powered?

    Write the station down as a short text file: panels, batteries, converters, radios and the
    cables between them. `check` reads it and looks at the wiring, `run` follows it over time
    and says whether it holds, lasts or runs down, and why.
    """


@command.command(short_help="Follow a station over time: does it stay powered?")
@FILE
@STEP
@JSON
@click.option(
    "--series",
    type=click.Path(path_type=Path, readable=False),
    metavar="FILE",
    help="Write every voltage, current and charge over time to FILE (.csv or .parquet).",
)
@PLOT
@click.option(
    "--case",
    metavar="TITLE",
    default="base",
    help="Show this case in full, write its series and draw it, in place of the station as it "
    "stands.",
)
@PLUGINS
def run(
    file: Path,
    step: float,
    as_json: bool,
    series: Path | None,
    plot: Path | None,
    case: str,
    plugins: tuple[Path, ...],
) -> int:
    """Follow the station in FILE over its whole time, and each of its cases, and print the verdict
    first.

    Exits 0 if it holds or lasts and every requirement is met, 1 if it runs down, a requirement
    is not met or a finding of level danger or fail stands, 2 if the file or the call is wrong. A
    case counts by the requirements that speak of it and by findings of level danger.
    """
    from copperpath.cli.commands import run_station

    return run_station(
        file,
        step_s=step,
        as_json=as_json,
        series=series,
        plugins=plugins,
        case=case,
        plot=plot,
    )


@command.command(short_help="What each panel can give a battery, by the hour and the month.")
@FILE
@click.option(
    "--day",
    type=Day(),
    metavar="DATE",
    help="One day, such as 2026-06-20, in place of a typical day of each month.",
)
@PLOT
@JSON
@PLUGINS
def sun(
    file: Path, day: date | None, plot: Path | None, as_json: bool, plugins: tuple[Path, ...]
) -> int:
    """Print the amps that each panel of the station in FILE can give at the battery, through its
    controller and cables, under a clear and an overcast sky, hour by hour.

    Exits 0 if it was worked out, 2 if the file has mistakes or the call is wrong.
    """
    from copperpath.cli.sun_command import show_sun

    return show_sun(file, day=day, plot=plot, as_json=as_json, plugins=plugins)


@command.command(short_help="Write a first station file, after a few questions.")
@FILE
@click.option("--title", help="What the station is called.")
@click.option("--place", help="Latitude, longitude and height: '47.4 N, 9.35 E, 900 m'.")
@click.option("--starts", help="When, with the offset from UTC: '2026-06-19 08:00 +02:00'.")
@click.option("--lasts", help="How long it must last: '48 h'.")
@click.option("--air", help="Coolest and warmest of the day: '8 degC .. 19 degC'.")
@click.option("--radios", help="Library parts with a comma between: 'hf_10w, 2 fm_25w'.")
@click.option("--loads", help="What else needs power: 'laptop_30w, phone_5v'.")
@click.option("--battery", help="A battery of the library: lfp_20ah.")
@click.option("--panel", help="A panel of the library: panel_100w, or none.")
@click.option("--generator", is_flag=True, default=None, help="A generator with a charger.")
def new(file: Path, **flags: str | bool | None) -> int:
    """Write a commented station file to FILE, ready to be changed.

    Without any of the options it asks; with one or more it asks nothing, and what they leave open
    is taken as usual. The names of parts are those of the libraries that come with copperpath.
    """
    from copperpath.cli.starter.command import write_new
    from copperpath.cli.starter.flags import answers_from

    given = {name: value for name, value in flags.items() if value is not None}
    return write_new(file, answers_from(given), questions=not given)


@command.command(short_help="Which wire and which fuse each cable wants.")
@FILE
@click.argument("cable", required=False)
@click.option(
    "--table",
    type=click.Choice(["craft", "building", "cord"]),
    default="craft",
    show_default=True,
    help="Which ampacities: single wires in free air, building wire, or flexible cord.",
)
@PLUGINS
def wire(file: Path, cable: str | None, table: str, plugins: tuple[Path, ...]) -> int:
    """Put every standard size into the cables of FILE, solve the worst instant again, and print
    the smallest that is enough, the fuse that goes with it, and what a short would make flow.

    With CABLE, such as "strip.1 -> rig", that one in every size. Exits 1 if a cable has less than
    it wants.
    """
    from copperpath.cli.wire_command import choose_wire

    return choose_wire(file, cable, table, plugins)


@command.command(short_help="Read a station and look at its wiring, without running time.")
@FILE
@JSON
@PLUGINS
def check(file: Path, as_json: bool, plugins: tuple[Path, ...]) -> int:
    """Read the station in FILE, report every mistake in it, and look at its wiring.

    Exits 0 if all is well, 1 if a finding of level danger or fail stands, 2 if the file has
    mistakes or the call is wrong.
    """
    from copperpath.cli.commands import check_station

    return check_station(file, as_json=as_json, plugins=plugins)


@command.command(name="format", short_help="Lay station files out in their one canonical form.")
@click.argument(
    "files",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path, readable=False, allow_dash=True),
    metavar="FILE...",
)
@click.option("--check", is_flag=True, help="Write nothing; name the files that would change.")
@click.option("--diff", is_flag=True, help="Write nothing; print what would change.")
def format_(files: tuple[Path, ...], check: bool, diff: bool) -> int:
    """Write each FILE anew in the one canonical form: blanks, line breaks and columns.

    Words, remarks and blank lines stay as they are. A FILE with mistakes is not touched. `-`
    reads standard input and writes to standard output.

    Exits 0 if all is well, 1 if `--check` names a file, 2 if a file has mistakes or the call is
    wrong.
    """
    from copperpath.cli.format_command import format_files

    return format_files(files, check=check, diff=diff)


@command.command(short_help="Write the circuit of one instant for a circuit simulator.")
@FILE
@click.option(
    "--at",
    type=Moment(),
    metavar="TIME",
    help="The instant, on the station's clock: a time on the first day such as 12:30, or "
    "'2026-06-20 12:30', with an offset from UTC behind it if you like. The start if left out.",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, readable=False),
    metavar="OUT",
    help="Write to OUT, in place of what it holds, rather than to the terminal.",
)
@click.option(
    "--column",
    type=click.Choice(["mean", "worst"]),
    default="mean",
    show_default=True,
    help="The mean of the key states, or the worst instant, every radio that is on keyed.",
)
@STEP
@PLUGINS
def export(
    file: Path,
    at: Instant | None,
    output: Path | None,
    column: Column,
    step: float,
    plugins: tuple[Path, ...],
) -> int:
    """Run the station in FILE up to an instant and write its circuit there as a netlist.

    General circuit simulators read it and find the operating point again: cables are resistors,
    devices are behavioural sources with the formulas of their models.

    Exits 0 if it was written, 1 if that step could not be solved, 2 if the file has mistakes or
    the call is wrong.
    """
    from copperpath.cli.commands import export_station

    return export_station(file, at=at, step_s=step, column=column, output=output, plugins=plugins)


@command.command(short_help="Draw the one-line diagram of a station.")
@FILE
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path, readable=False),
    metavar="OUT",
    help="Write to OUT, in place of what it holds; its name ends in .svg, .png or .pdf.",
)
@click.option("--case", metavar="TITLE", default="base", help="Draw this case in its place.")
@PLUGINS
def draw(file: Path, output: Path, case: str, plugins: tuple[Path, ...]) -> int:
    """Draw the station in FILE: sources left, loads right, every cable with its length, size and
    fuse, and the volts and amps at the worst instant. What its wiring has to say is numbered at
    the foot.

    Exits 0 if it was drawn, 2 if the file has mistakes or the call is wrong.
    """
    from copperpath.cli.draw_command import draw_station

    return draw_station(file, output=output, case=case, plugins=plugins)


command.add_command(seasons)


for _call in CALLS:
    command.add_command(_call)


def main() -> None:
    """Run the command and leave with its exit code; a person never meets a traceback."""
    sys.exit(exit_code(sys.argv[1:]))


def exit_code(arguments: list[str]) -> int:
    """Run the command with these arguments; the code it ends with."""
    try:
        outcome = command.main(arguments, prog_name="copperpath", standalone_mode=False)
        return outcome if isinstance(outcome, int) else GOOD
    except click.exceptions.NoArgsIsHelpError as problem:
        say(problem.format_message() + "\n", error=True)
        return WRONG
    except click.UsageError as problem:
        say(usage_words(problem), error=True)
        return WRONG
    except click.ClickException as problem:
        say(f"{problem.format_message()}\n", error=True)
        return WRONG
    except (click.Abort, KeyboardInterrupt):
        say("\nstopped\n", error=True)
        return STOPPED
    except ReaderGone:
        # Nothing is left to tell anybody; Python's own flush at the end must not complain either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except Exception as problem:
        if os.environ.get("COPPERPATH_TRACEBACK"):
            raise
        say(our_mistake(problem), error=True)
        return OURS
