"""The hourly years that come with pvlib, and the table of measured light made from one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pandas


@dataclass(frozen=True)
class HourlyFile:
    """Where the year was recorded, and how its clock stands."""

    name: str
    words: str
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    ahead_h: int

    @property
    def offset(self) -> str:
        """As a station file writes it."""
        return f"{'-' if self.ahead_h < 0 else '+'}{abs(self.ahead_h):02}:00"


HOURLY = {
    "Greensboro NC": HourlyFile("723170TYA.CSV", "36.1 N, 79.95 W, 273 m", 36.1, -79.95, 273.0, -5),
    "Sand Point AK": HourlyFile(
        "703165TY.csv", "55.317 N, 160.517 W, 7 m", 55.317, -160.517, 7.0, -9
    ),
}


@lru_cache
def hourly_year(station: str) -> Any:
    """The year by rows of hours; columns ghi, dni, dhi [W/m²] and temp_air [°C]."""
    import pvlib

    file = Path(pvlib.__file__).parent / "data" / HOURLY[station].name
    return pvlib.iotools.read_tmy3(file, coerce_year=2025, map_variables=True)[0]


def stamps_s() -> np.ndarray:
    """Middles of the hours of 2025 on the file's clock, counted as if that were UTC [s]."""
    start = pandas.Timestamp("2025-01-01").timestamp()
    return start + 3600.0 * (np.arange(8760) + 0.5)


def sky_table(year: Any, place: HourlyFile) -> str:
    """The year as a table of measured light. The first hour's row stands once more at its start,
    and the last one's at its end, as the run begins and ends there."""
    names = ["ghi", "dni", "dhi"]
    lights = year[names].to_numpy()
    times = stamps_s()
    times = np.concatenate([[times[0] - 1800.0], times, [times[-1] + 1800.0]])
    lights = np.concatenate([lights[:1], lights, lights[-1:]])
    lines = ["time, global [W/m2], beam [W/m2], diffuse [W/m2]"]
    for second, row in zip(times, lights, strict=True):
        stamp = pandas.Timestamp(second, unit="s").strftime("%Y-%m-%dT%H:%M")
        lines.append(f"{stamp}{place.offset}, " + ", ".join(f"{value:g}" for value in row))
    return "\n".join(lines) + "\n"


def month_means(watts: np.ndarray, a_day: int) -> np.ndarray:
    """Mean energy a day [kWh] by month of a year of equal steps that begins on 1 January."""
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    daily = watts.reshape(365, a_day).sum(axis=1) * 24.0 / a_day / 1000.0
    ends = np.cumsum(days)
    return np.array([daily[end - n : end].mean() for end, n in zip(ends, days, strict=True)])
