"""What the readers share: a column as numbers, and a library's complaint as a plain sentence."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from copperpath.plugin_api import FloatArray, Weather, WeatherProblem

if TYPE_CHECKING:
    import pandas


def column(data: pandas.DataFrame, name: str) -> FloatArray:
    """A column as numbers, not a number where there is none."""
    import pandas

    return pandas.to_numeric(data[name], errors="coerce").to_numpy(np.float64)


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
