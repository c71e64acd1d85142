"""Many steps in few pieces: the least, the most and the mean of each piece are kept.

A picture a thousand dots wide cannot show a year of minutes; the extremes of what falls on one
dot can be shown, so none is lost.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from copperpath.plugin_api import FloatArray

MOST_PIECES = 1500
HOUR_S = 3600.0
DAY_S = 86_400.0
LENGTHS_S = (60.0, 120.0, 300.0, 600.0, 900.0, 1800.0, HOUR_S, 2 * HOUR_S, DAY_S)
LONG_S = 45.0 * DAY_S
"""From here on a day is a piece, as the hours cannot be told apart any more."""


@dataclass(frozen=True, slots=True)
class Pieces:
    """Steps gathered into pieces.

    Attributes
    ----------
    first : ndarray (piece,)
        The first step of each.
    edges_s : ndarray (piece + 1,)
        Where they begin and end, from the start of the run [s].
    dt_s : ndarray (time,)
        Lengths of the steps [s].
    length_s : float
        Length of a piece [s]; 0 where each step is its own.
    """

    first: NDArray[np.int64]
    edges_s: FloatArray
    dt_s: FloatArray
    length_s: float

    @property
    def thinned(self) -> bool:
        """True if steps were gathered."""
        return self.length_s > 0.0

    @property
    def daily(self) -> bool:
        """True if each piece is a day."""
        return self.length_s >= DAY_S

    def least(self, values: FloatArray) -> FloatArray:
        """Least of each piece, steps without a figure left out."""
        found: FloatArray = np.fmin.reduceat(values, self.first)
        return found

    def most(self, values: FloatArray) -> FloatArray:
        """Most of each piece."""
        found: FloatArray = np.fmax.reduceat(values, self.first)
        return found

    def mean(self, values: FloatArray) -> FloatArray:
        """Mean of each piece, by the length of its steps."""
        if not self.thinned:
            return values
        known = np.isfinite(values)
        total = np.add.reduceat(np.where(known, values * self.dt_s, 0.0), self.first)
        time = np.add.reduceat(np.where(known, self.dt_s, 0.0), self.first)
        return np.where(time > 0.0, total / np.maximum(time, 1e-9), np.nan)


def gather(edges_s: FloatArray, clock_s: float, most: int = MOST_PIECES) -> Pieces:
    """Pieces of a run, whole hours or days of its clock.

    Parameters
    ----------
    edges_s : ndarray (time + 1,) [s]
        Where the steps begin and end, from the start of the run.
    clock_s : float
        What the station's clock shows at the start, seconds after midnight [s].
    """
    dt_s = np.diff(edges_s)
    lasts = float(edges_s[-1])
    if len(dt_s) <= most:
        return Pieces(np.arange(len(dt_s)), edges_s, dt_s, 0.0)
    wanted = [each for each in LENGTHS_S if lasts / each <= most] or [DAY_S]
    length = DAY_S if lasts > LONG_S else wanted[0]
    number = np.floor((edges_s[:-1] + clock_s + 1e-6) / length)
    first = np.concatenate([[0], np.flatnonzero(np.diff(number)) + 1]).astype(np.int64)
    return Pieces(first, np.append(edges_s[first], lasts), dt_s, length)
