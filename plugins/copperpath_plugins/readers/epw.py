"""EnergyPlus weather files (`.epw`), read by pvlib.

Format: EnergyPlus documentation, Auxiliary Programs, "EnergyPlus weather file (EPW) data
dictionary": hour 1 is the hour from 00:00 to 01:00, light is summed over the hour that ends at the
stamp, temperature is that at the stamp.
"""

from __future__ import annotations

import io

from copperpath.plugin_api import Reader, Weather, WeatherProblem
from copperpath_plugins.readers.frames import looked_at, weather_of


class Epw(Reader):
    """Hours of a typical or of one year, from a file of eight header lines and 35 columns."""

    interface = 1
    name = "epw"
    summary = "weather by the hour, EnergyPlus format (.epw)"

    @staticmethod
    def recognizes(name: str, head: str) -> bool:
        """By the name's end, or by the first word."""
        return name.lower().endswith(".epw") or head.startswith("LOCATION,")

    @staticmethod
    def read(text: str) -> Weather:
        """The weather of such a text."""
        if not text.startswith("LOCATION,"):
            raise WeatherProblem(
                "its first line does not begin with `LOCATION,`, as in every EPW file"
            )

        def parse() -> Weather:
            from pvlib.iotools import read_epw

            data, place = read_epw(io.StringIO(text))
            return weather_of(data, place, month=data["month"], day=data["day"], ends=data["hour"])

        return looked_at(parse, "eight header lines and then 35 columns an hour")
