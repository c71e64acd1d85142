"""Typical years of the TMY3 collection (`.csv`), read by pvlib.

Format: S. Wilcox and W. Marion, "Users manual for TMY3 data sets", NREL/TP-581-43156 (2008): light
is that of the 60 minutes that end at the stamp, 01:00 to 24:00; temperature is that at the stamp.
"""

from __future__ import annotations

import io

import numpy as np

from copperpath.plugin_api import Reader, Weather, WeatherProblem
from copperpath_plugins.readers.frames import column, looked_at

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
            return Weather(
                np.asarray(days.str[0].astype(int), dtype=np.float64),
                np.asarray(days.str[1].astype(int), dtype=np.float64),
                np.asarray(ends, dtype=np.float64) - 1.0,
                float(place["TZ"]) * 3600.0,
                float(place["latitude"]),
                float(place["longitude"]),
                float(place["altitude"]),
                column(data, "ghi"),
                column(data, "dni"),
                column(data, "dhi"),
                column(data, "temp_air") + 273.15,
                column(data, "wind_speed"),
            )

        return looked_at(parse, "a line of the place, a line of headings, and then a line an hour")
