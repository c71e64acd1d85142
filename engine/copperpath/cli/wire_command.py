"""What `copperpath wire` does: sizes for every cable, or every size for one."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from pathlib import Path

import click

from copperpath.cli.commands import must_be_readable, read_station, refuse, told_like_mistakes
from copperpath.cli.exit_codes import GOOD, STANDS
from copperpath.cli.say import say

TABLES = ("craft", "building", "cord")
MOST_TRIED = 2e8
"""Entries of matrices that are solved again for sizes: some half a minute."""
WORDS = {
    "craft": "craft wiring in free air, 33 CFR 183.425 / ABYC E-11",
    "building": "building wire, NEC table 310.16",
    "cord": "flexible cord, NEC table 400.5",
}


def choose_wire(file: Path, cable: str | None, table: str, plugins: Sequence[Path]) -> int:
    """Print what cables want; 1 if one of them has less than it wants, or could not be tried."""
    from copperpath.cli.progress import Waiting
    from copperpath.inquiry.budget import Budget
    from copperpath.inquiry.inquiry import StationInquiry
    from copperpath.inquiry.wire_choice import choose_wires, direct_current, fuse_places
    from copperpath.report.wire_screen import one_cable, overview

    must_be_readable(file, *plugins)
    loaded = read_station(file, plugins)
    station = loaded.station
    if station is None:
        return refuse(file, loaded.diagnostics, as_json=False)
    inquiry = StationInquiry(station, budget=Budget(MOST_TRIED))
    known = direct_current(inquiry)
    if cable is not None and cable not in known:
        raise click.ClickException(_no_such_cable(cable, known))
    with told_like_mistakes(station):
        found = inquiry.low.found
    if not found:
        words = "no operating point was found\n`copperpath check` says why"
        raise click.ClickException(f"{file}: {words}")
    ampacities = f"{WORDS[table]}; insulation taken as 60 degC where the file does not say"
    with Waiting() as waiting:
        waiting("trying every size in every cable")
        names = known if cable is None else [cable]
        choices = choose_wires(inquiry, names, table, every=cable is not None)
        if cable is None:
            left = len(known) - len(choices)
            say(overview(station.title, choices, fuse_places(inquiry), ampacities, left))
        else:
            say(one_cable(station.title, choices[0], ampacities))
    enough = len(choices) == len(names) and all(choice.enough for choice in choices)
    return GOOD if enough else STANDS


def _no_such_cable(cable: str, known: Sequence[str]) -> str:
    near = get_close_matches(cable, known, n=1)
    hint = f'; did you mean "{near[0]}"?' if near else ""
    names = ", ".join(f'"{name}"' for name in known)
    return f'there is no cable "{cable}" with a length and a wire{hint}\nthere are: {names}'
