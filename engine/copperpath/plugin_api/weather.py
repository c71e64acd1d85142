"""What a reader of weather files returns: the hours of a year at a place."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import ClassVar

from copperpath.plugin_api.arrays import FloatArray


class WeatherProblem(Exception):
    """A file is not what it should be; the texts are for people."""

    def __init__(self, message: str, help: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.help = help


@dataclass(frozen=True, slots=True, eq=False)
class Weather:
    """Hours of a year, each by its month, day and hour; its years do not count.

    Attributes
    ----------
    month, day, hour : ndarray (row,)
        1 to 12, 1 to 31, and 0 to 23: the hour of the file's clock at which a row BEGINS, whatever
        the file's own labels are.
    clock_ahead_s : float
        How far the file's clock is ahead of UTC, without summer time [s].
    latitude_deg, longitude_deg, altitude_m : float
        The place of which it tells; north, east and up are positive [degrees, m].
    level, beam, diffuse : ndarray (row,)
        Means over the hour [W/m²]: on the level, across the beam, from the rest of the sky.
    air_k : ndarray (row,)
        Air temperature at the END of the hour [K].
    wind_m_s : ndarray (row,) or None
        Wind at the end of the hour [m/s].
    """

    month: FloatArray
    day: FloatArray
    hour: FloatArray
    clock_ahead_s: float
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    level: FloatArray
    beam: FloatArray
    diffuse: FloatArray
    air_k: FloatArray
    wind_m_s: FloatArray | None = None


class Reader(ABC):
    """Base of every reader; listed under `copperpath.readers`. It gets a file's text, never its
    path, and opens nothing.

    Attributes
    ----------
    interface : int
        The version of this interface that it was written for: 1.
    name : str
        As it is listed.
    summary : str
        What files it reads.
    """

    interface: ClassVar[int]
    name: ClassVar[str] = ""
    summary: ClassVar[str] = ""

    @staticmethod
    @abstractmethod
    def recognizes(name: str, head: str) -> bool:
        """True if a file of this name that begins with `head` (4000 characters at most) is meant
        for this reader, even if it should turn out to be broken."""

    @staticmethod
    @abstractmethod
    def read(text: str) -> Weather:
        """The weather in a file's text.

        Raises
        ------
        WeatherProblem
            If the text is not of this format. Missing hours and values beyond belief need not be
            looked for.
        """
