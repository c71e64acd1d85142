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
from pathlib import Path, PurePosixPath

import numpy as np

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
LARGEST_FILE = 50_000_000
SHOWN_ROWS = 3
HEADER_ADVICE = (
    "the first row is `time, plane [W/m2]` (light on the panels' plane) or `time, global [W/m2]` "
    "(on level ground), to which `beam [W/m2], diffuse [W/m2]` may be added"
)


class _Trouble(Exception):
    """Why a file cannot be used, with what to do about it."""

    def __init__(self, reason: str, advice: str = "") -> None:
        super().__init__(reason)
        self.reason = reason
        self.advice = advice


@dataclass(frozen=True, slots=True)
class _Table:
    header: tuple[str, ...]
    times: list[float]
    rows: list[list[float]]


def read_measured_sky(text: Text, folder: Path | None, scope: Scope) -> MeasuredSky | None:
    """The light in the file that a station names, or None after a report.

    Parameters
    ----------
    folder : Path or None
        Folder of the station file; only files inside it may be named. None for a station that
        did not come from a file.
    """
    try:
        table = _read_table(_read_text(_safe_path(text.value, folder)))
    except _Trouble as trouble:
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


def _safe_path(written: str, folder: Path | None) -> Path:
    """The file's path, certain to lie inside the folder of the station file."""
    if folder is None:
        raise _Trouble(
            "this station did not come from a file, so there is no folder to look in",
            "save the station to a file beside it",
        )
    inside = 'name a file in the station file\'s own folder, such as `sky "sun.csv"`'
    pure = PurePosixPath(written)
    odd = "\\" in written or ":" in written or "\0" in written or written.startswith("~")
    if not written.strip() or odd or pure.is_absolute() or ".." in pure.parts:
        raise _Trouble("only a file inside the station file's folder may be named", inside)
    try:
        home = folder.resolve(strict=True)
        path = (home / pure).resolve(strict=True)
    except FileNotFoundError:
        raise _Trouble(f"there is no such file{_near_file(folder, written)}", inside) from None
    except (OSError, RuntimeError, ValueError):
        raise _Trouble("it cannot be opened", inside) from None
    if not path.is_relative_to(home):
        raise _Trouble("it is a link to a place outside the station file's folder", inside)
    if not path.is_file():
        raise _Trouble("it is not a plain file", inside)
    return path


def _near_file(folder: Path, written: str) -> str:
    from copperpath.build.wording import nearest

    try:
        names = [each.name for each in folder.iterdir() if each.suffix.lower() == ".csv"]
    except OSError:
        return ""
    near = nearest(written, sorted(names))
    return f" (did you mean `{near}`?)" if near else ""


def _read_text(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise _Trouble(f"it is larger than {LARGEST_FILE // 1_000_000} MB", "cut it to the run")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise _Trouble("it is not plain text", "save it as CSV in UTF-8") from None
    except OSError as error:
        raise _Trouble(f"it cannot be read ({error.strerror})") from None


def _read_table(text: str) -> _Table:
    if "\0" in text:
        raise _Trouble("it is not plain text", "save it as CSV in UTF-8")
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), skipinitialspace=True))
    except csv.Error as error:
        raise _Trouble(f"it is not a table ({error})", HEADER_ADVICE) from None
    numbered = [(number, row) for number, row in enumerate(lines, 1) if any(c.strip() for c in row)]
    if not numbered:
        raise _Trouble("it is empty", HEADER_ADVICE)
    header = tuple(_plain_heading(cell) for cell in numbered[0][1])
    if header not in HEADERS:
        raise _Trouble(_header_reason(numbered[0][1]), HEADER_ADVICE)
    table = _Table(header, [], [])
    mistakes: list[str] = []
    for number, row in numbered[1:]:
        mistake = _add_row(table, row)
        if mistake:
            mistakes.append(f"row {number}: {mistake}")
    if mistakes:
        raise _Trouble(_some_of(mistakes), "rows are counted from 1, the header included")
    if len(table.times) < 2:
        raise _Trouble("it needs at least two rows of light below the header", "add rows")
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
