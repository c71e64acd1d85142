"""A file that `sky` or `air` names: weather of a year in a format that an installed reader knows,
or else a table of measured light."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import numpy as np

from copperpath.build.beside import FileTrouble, read_text, safe_path
from copperpath.build.measured_sky import read_measured_sky
from copperpath.build.months import MONTHS
from copperpath.build.scope import Scope
from copperpath.build.site_errors import SkyFile
from copperpath.over_year import WeatherFile
from copperpath.plugin_api import FloatArray, Weather, WeatherProblem
from copperpath.readers import installed_readers, reader_for
from copperpath.station import MeasuredSky
from copperpath_grammar.value_nodes import Text

MOST_LIGHT = 2000.0
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
SHOWN = 3


def read_light_file(
    text: Text, folder: Path | None, scope: Scope
) -> MeasuredSky | WeatherFile | None:
    """What `sky` finds in a file, or None after a report.

    Parameters
    ----------
    folder : Path or None
        Folder of the station file; only files inside it may be named. None for a station that
        did not come from a file.
    """
    try:
        content = read_text(safe_path(text.value, folder))
        weather = _weather(text.value, content)
    except FileTrouble as trouble:
        scope.report(SkyFile(text.span, text.value, trouble.reason, trouble.advice))
        return None
    return weather or read_measured_sky(text, content, scope)


def read_air_file(text: Text, folder: Path | None, scope: Scope) -> WeatherFile | None:
    """The weather file that `air` names, or None after a report."""
    try:
        weather = _weather(text.value, read_text(safe_path(text.value, folder)))
        if weather is None:
            forms = "; ".join(reader.summary for reader in installed_readers())
            raise FileTrouble("it is no weather file, so it has no air", f"these are: {forms}")
    except FileTrouble as trouble:
        scope.report(SkyFile(text.span, text.value, trouble.reason, trouble.advice))
        return None
    return weather


@lru_cache(maxsize=4)
def _weather(path: str, content: str) -> WeatherFile | None:
    """The weather of a file, kept, as cases and `air` ask for it again."""
    reader = reader_for(path, content)
    if reader is None:
        return None
    try:
        weather = reader.read(content)
    except WeatherProblem as problem:
        raise FileTrouble(problem.message, problem.help) from None
    except Exception as error:  # whatever a stranger's reader does with a broken file
        raise FileTrouble(f"the reader `{reader.name}` failed ({type(error).__name__})") from None
    mistakes = _mistakes(weather)
    if mistakes:
        more = f"; and {len(mistakes) - SHOWN} more" if len(mistakes) > SHOWN else ""
        advice = "a weather file has every hour of a year, each with its light and its air"
        raise FileTrouble("; ".join(mistakes[:SHOWN]) + more, advice)
    return WeatherFile(path, reader.name, weather)


def _mistakes(weather: Weather) -> list[str]:
    """Everything that no year of weather can be."""
    rows = len(weather.month)
    columns: list[tuple[str, FloatArray, float, float]] = [
        ("light on the level", weather.level, 0.0, MOST_LIGHT),
        ("light in the beam", weather.beam, 0.0, MOST_LIGHT),
        ("light from the sky", weather.diffuse, 0.0, MOST_LIGHT),
        ("air temperature", weather.air_k, 183.15, 333.15),
    ]
    if any(len(each) != rows for each in (weather.day, weather.hour, *(c[1] for c in columns))):
        return ["its columns are not equally long"]
    if not (abs(weather.latitude_deg) <= 90.0 and abs(weather.longitude_deg) <= 180.0):
        return ["the place in its first line is not on the map"]
    if not abs(weather.clock_ahead_s) <= 14.0 * 3600.0:
        return ["the offset of its clock from UTC is none that a clock on earth has"]
    found = []
    for what, values, low, high in columns:
        bad = np.flatnonzero(~((values >= low) & (values <= high)))
        if len(bad):
            count = "1 hour has" if len(bad) == 1 else f"{len(bad)} hours have"
            found.append(f"{count} no believable {what}, {_when(weather, bad[0])}")
    return found + _missing(weather)


def _missing(weather: Weather) -> list[str]:
    """Hours of the year that are not there; 29 February may be."""
    there = np.zeros((13, 32, 24), dtype=bool)
    numbers = np.stack([weather.month, weather.day, weather.hour])
    if not (np.isfinite(numbers).all() and (numbers >= [[1], [1], [0]]).all()):
        return ["it has lines without a month, a day or an hour"]
    if not (numbers <= [[12], [31], [23]]).all():
        return ["it has lines whose month, day or hour does not exist"]
    month, day, hour = numbers.astype(np.int64)
    there[month, day, hour] = True
    gaps = [
        (each, day + 1, hour)
        for each, days in enumerate(DAYS, 1)
        for day in range(days)
        for hour in range(24)
        if not there[each, day + 1, hour]
    ]
    if not gaps:
        return []
    first = gaps[0]
    count = "1 hour of the year is" if len(gaps) == 1 else f"{len(gaps)} hours of the year are"
    return [
        f"{count} missing, the first on {first[1]} {MONTHS[first[0] - 1]} from {first[2]:02}:00"
    ]


def _when(weather: Weather, row: int) -> str:
    numbers = (weather.month[row], weather.day[row], weather.hour[row])
    if not (np.isfinite(numbers).all() and 1 <= numbers[0] <= 12):
        return f"the first in row {row + 1}"
    month, day, hour = (int(number) for number in numbers)
    return f"the first on {day} {MONTHS[month - 1]} from {hour:02}:00"
