"""Typical years of the TMY3 collection (`.csv`), read by pvlib.

Format: S. Wilcox and W. Marion, "Users manual for TMY3 data sets", NREL/TP-581-43156 (2008): light
is that of the 60 minutes that end at the stamp, 01:00 to 24:00; temperature is that at the stamp.
"""

from __future__ import annotations

import io

from copperpath.plugin_api import Reader, Weather, WeatherProblem
from copperpath_plugins.readers.frames import looked_at, weather_of

STAMP = "Date (MM/DD/YYYY)"


class Tmy3(Reader):
    """Hours of twelve months, each from another year, from a file of two header lines."""

    interface = 1
    name = "tmy3"
    summary = "typical weather by the hour, TMY3 format (.csv)"

    @staticmethod
    def recognizes(name: str, head: str) -> bool:
        """By the heading of the first column, in the second line."""
        lines = head.splitlines()[:2]
        return any(line.startswith(STAMP) for line in lines)

    @staticmethod
    def read(text: str) -> Weather:
        """The weather of such a text."""
        lines = text.splitlines()[:2]
        if len(lines) < 2 or not lines[1].startswith(STAMP):
            raise WeatherProblem(f"its second line does not begin with `{STAMP}`")

        def parse() -> Weather:
            from pvlib.iotools import read_tmy3

            data, place = read_tmy3(io.StringIO(text), map_variables=True)
            days = data[STAMP].str.split("/")
            ends = data["Time (HH:MM)"].str.split(":").str[0].astype(int)
            month, day = (days.str[part].astype(int) for part in (0, 1))
            return weather_of(data, place, month=month, day=day, ends=ends)

        return looked_at(parse, "a line of the place, a line of headings, and then a line an hour")
