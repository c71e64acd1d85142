"""What the readers share: a table as weather, and a library's complaint as a plain sentence."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from copperpath.plugin_api import FloatArray, Weather, WeatherProblem

if TYPE_CHECKING:
    import pandas


def column(data: pandas.DataFrame, name: str) -> FloatArray:
    """A column as numbers, not a number where there is none."""
    import pandas

    return pandas.to_numeric(data[name], errors="coerce").to_numpy(np.float64)


def weather_of(
    data: pandas.DataFrame,
    place: Mapping[str, Any],
    *,
    month: Any,
    day: Any,
    ends: Any,
) -> Weather:
    """Hours from a table in pvlib's own names; `ends` is the hour, 1 to 24, at which a row ends."""
    return Weather(
        np.asarray(month, dtype=np.float64),
        np.asarray(day, dtype=np.float64),
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


def looked_at(parse: Callable[[], Weather], form: str) -> Weather:
    """The weather, or why a text that is not of its form could not be read.

    Raises
    ------
    WeatherProblem
        Whatever the library stumbled over: it was written for files that are in order.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return parse()
    except Exception as error:  # whatever a broken file does to a reader for whole ones
        reason = " ".join(str(error).split())[:80]
        raise WeatherProblem(
            f"it is not of the form that its first lines promise ({reason})", f"it has {form}"
        ) from None
