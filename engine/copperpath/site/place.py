"""A place on the ground with its clock, and the mistake class of this folder."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.station import SiteSettings

if TYPE_CHECKING:
    import pandas


class SiteProblem(Exception):
    """The site cannot be worked out; the texts are for people."""

    def __init__(self, message: str, help: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.help = help


@dataclass(frozen=True, slots=True)
class Place:
    """Latitude (north positive) and longitude (east positive) in degrees, height above the sea
    in metres, and how far its clock is ahead of UTC in seconds. The clock is that of `starts`
    for the whole run: no summer time begins or ends inside it."""

    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    clock_ahead_s: float


def make_place(settings: SiteSettings) -> Place:
    """The place of a station.

    Raises
    ------
    SiteProblem
        If `starts` has no offset from UTC.
    """
    ahead = settings.starts.utcoffset()
    if ahead is None:
        raise SiteProblem(
            "`starts` does not say how far its clock is from UTC",
            "write the offset behind the time: `starts 2026-06-19 08:00 +03:00`",
        )
    return Place(
        settings.latitude_deg,
        settings.longitude_deg,
        settings.altitude_m,
        ahead.total_seconds(),
    )


def kilometres(place: Place, latitude_deg: float, longitude_deg: float) -> float:
    """How far it is to another place, along the ground of a round earth of 6371 km [km]."""
    north, other = np.radians(place.latitude_deg), np.radians(latitude_deg)
    east = np.radians(longitude_deg - place.longitude_deg)
    half = np.sin((other - north) / 2) ** 2 + np.cos(north) * np.cos(other) * np.sin(east / 2) ** 2
    return float(2.0 * 6371.0 * np.arcsin(np.sqrt(half)))


def moments(time_s: FloatArray) -> pandas.DatetimeIndex:
    """Times in UTC for the library that knows the sky.

    Parameters
    ----------
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC.
    """
    import pandas

    whole = np.round(time_s * 1e3).astype("int64").astype("datetime64[ms]")
    return pandas.DatetimeIndex(whole).tz_localize("UTC")


def day_of_year(time_s: FloatArray) -> FloatArray:
    """Day of the year in UTC, 1 to 366, shape (time,)."""
    days = time_s.astype("int64").astype("datetime64[s]").astype("datetime64[D]")
    first = days.astype("datetime64[Y]").astype("datetime64[D]")
    number: FloatArray = ((days - first).astype("int64") + 1).astype(np.float64)
    return number


def clock_s(time_s: FloatArray, place: Place) -> FloatArray:
    """Seconds since midnight on the place's clock, shape of `time_s` [s]."""
    return np.mod(time_s + place.clock_ahead_s, 86_400.0)


def day_number(time_s: FloatArray, place: Place) -> FloatArray:
    """Whole days since 1970-01-01 on the place's clock."""
    return np.floor((time_s + place.clock_ahead_s) / 86_400.0)


def shown(time_s: float, settings: SiteSettings) -> str:
    """A time as people of the station read it."""
    return datetime.fromtimestamp(time_s, settings.starts.tzinfo).strftime("%Y-%m-%d %H:%M %z")
