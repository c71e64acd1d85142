"""A CSV of measured light to arrays, or all that is wrong with it in one message.

The file is plain text (UTF-8), commas between columns, one header row:

    time, plane [W/m2]
    2026-03-28T06:00+01:00, 0
    2026-03-28T06:10+01:00, 42

or `time, global [W/m2]`, where `beam [W/m2], diffuse [W/m2]` may follow. `plane` is the light
falling on the panels' own plane; `global` that on level ground, `beam` that straight from the
sun across its rays, `diffuse` that from the rest of the sky on level ground. A row is the light
at its time; between rows the light follows a straight line. Times carry an offset and rise.
"""

from __future__ import annotations

import csv
import io
import math
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from copperpath.build.beside import FileTrouble
from copperpath.build.scope import Scope
from copperpath.build.site_errors import SkyFile
from copperpath.station import MeasuredSky
from copperpath_grammar.value_nodes import Text

UNIT = "[W/m2]"
PLANE = ("time", f"plane {UNIT}")
LEVEL = ("time", f"global {UNIT}")
LEVEL_WITH_PARTS = ("time", f"global {UNIT}", f"beam {UNIT}", f"diffuse {UNIT}")
HEADERS = (PLANE, LEVEL, LEVEL_WITH_PARTS)
MOST_LIGHT = 2000.0
"""Highest believable light [W/m²]; beyond the air the sun gives about 1361."""
SHOWN_ROWS = 3
HEADER_ADVICE = (
    "the first row is `time, plane [W/m2]` (light on the panels' plane) or `time, global [W/m2]` "
    "(on level ground), to which `beam [W/m2], diffuse [W/m2]` may be added"
)


@dataclass(frozen=True, slots=True)
class _Table:
    header: tuple[str, ...]
    times: list[float]
    rows: list[list[float]]


def read_measured_sky(text: Text, content: str, scope: Scope) -> MeasuredSky | None:
    """The light in the file that a station names, or None after a report.

    Parameters
    ----------
    content : str
        The file's text.
    """
    try:
        table = _read_table(content)
    except FileTrouble as trouble:
        scope.report(SkyFile(text.span, text.value, trouble.reason, trouble.advice))
        return None
    columns = {}
    for index, heading in enumerate(table.header[1:]):
        values = np.array([row[index] for row in table.rows], dtype=np.float64)
        values.flags.writeable = False
        columns[heading.split()[0]] = values
    time_s = np.array(table.times, dtype=np.float64)
    time_s.flags.writeable = False
    kind = "plane" if "plane" in columns else "horizontal"
    return MeasuredSky(text.value, kind, time_s, columns)


def _read_table(text: str) -> _Table:
    if "\0" in text:
        raise FileTrouble("it is not plain text", "save it as CSV in UTF-8")
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), skipinitialspace=True))
    except csv.Error as error:
        raise FileTrouble(f"it is not a table ({error})", HEADER_ADVICE) from None
    numbered = [(number, row) for number, row in enumerate(lines, 1) if any(c.strip() for c in row)]
    if not numbered:
        raise FileTrouble("it is empty", HEADER_ADVICE)
    header = tuple(_plain_heading(cell) for cell in numbered[0][1])
    if header not in HEADERS:
        raise FileTrouble(_header_reason(numbered[0][1]), HEADER_ADVICE)
    table = _Table(header, [], [])
    mistakes: list[str] = []
    for number, row in numbered[1:]:
        mistake = _add_row(table, row)
        if mistake:
            mistakes.append(f"row {number}: {mistake}")
    if mistakes:
        raise FileTrouble(_some_of(mistakes), "rows are counted from 1, the header included")
    if len(table.times) < 2:
        raise FileTrouble("it needs at least two rows of light below the header", "add rows")
    return table


def _add_row(table: _Table, row: list[str]) -> str:
    """Put one row on the table; what is wrong with it, or ""."""
    if len(row) != len(table.header):
        return f"{len(row)} columns instead of {len(table.header)}"
    try:
        moment = datetime.fromisoformat(row[0].strip())
    except ValueError:
        return f"`{_short(row[0])}` is not a time such as 2026-03-28T06:00+01:00"
    if moment.tzinfo is None:
        return f"`{_short(row[0])}` has no offset from UTC, write it like `{_short(row[0])}+01:00`"
    seconds = (moment - datetime.fromisoformat("1970-01-01T00:00+00:00")).total_seconds()
    if table.times and seconds <= table.times[-1]:
        return f"`{_short(row[0])}` is not later than the row before"
    values = []
    for heading, cell in zip(table.header[1:], row[1:], strict=True):
        value = _number(cell)
        if value is None:
            return f"`{_short(cell)}` in column `{heading}` is not a number"
        if not 0.0 <= value <= MOST_LIGHT:
            return f"{cell.strip()} in column `{heading}` is not between 0 and {MOST_LIGHT:g} W/m2"
        values.append(value)
    table.times.append(seconds)
    table.rows.append(values)
    return ""


def _number(cell: str) -> float | None:
    try:
        value = float(cell)
    except ValueError:
        return None
    return value if math.isfinite(value) and "_" not in cell else None


def _plain_heading(cell: str) -> str:
    return " ".join(cell.replace("²", "2").replace("[", " [").split())


def _header_reason(cells: list[str]) -> str:
    shown = ", ".join(_short(cell) for cell in cells[:6])
    if len(cells) == 1 and (";" in cells[0] or "\t" in cells[0]):
        return f"its columns are not separated by commas: `{shown}`"
    return f"its first row is `{shown}`"


def _some_of(mistakes: list[str]) -> str:
    text = "; ".join(mistakes[:SHOWN_ROWS])
    more = len(mistakes) - SHOWN_ROWS
    return f"{text}; and {more} more" if more > 0 else text


def _short(cell: str) -> str:
    plain = " ".join(cell.split())
    return plain if len(plain) <= 30 else f"{plain[:27]}..."
