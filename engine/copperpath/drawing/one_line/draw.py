"""From a station to the file with its one-line diagram."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from copperpath.drawing.one_line.annotations import annotate
from copperpath.drawing.one_line.paint import save_sheet
from copperpath.drawing.one_line.sheet import Sheet, make_sheet
from copperpath.plugin_api.rule import Rule
from copperpath.required import BASE
from copperpath.station import Station


def draw_one_line(
    station: Station,
    path: Path,
    rules: Sequence[type[Rule]] = (),
    *,
    case: str = BASE,
    progress: Callable[[str], None] | None = None,
) -> Sheet:
    """Draw a station, or the station of a case, into a file, with what the rules find.

    Raises
    ------
    PictureProblem
        If the file cannot be written.
    """
    say = progress or (lambda words: None)
    say("volts and amps at the worst instant")
    notes = annotate(station, rules, say)
    say("where everything stands")
    sheet = make_sheet(station, case, notes)
    say("drawing")
    save_sheet(sheet, path, station.title)
    return sheet
