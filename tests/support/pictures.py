"""Comparing pictures by what can be seen: small squares of dots by their mean.

Releases of matplotlib put the edges of letters a fraction of a dot elsewhere; the mean over a
square of eight dots hardly changes by that, and by a line that stands elsewhere it does.
"""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import numpy.typing as npt

SQUARE = 8
ALIKE = 4.0
"""Root mean square of the differences of the squares, in steps of 255."""


def dots(path: Path) -> npt.NDArray[np.float64]:
    """A .png (row, column, colour) from 0 to 255."""
    from matplotlib.image import imread

    return 255.0 * np.asarray(imread(path), dtype=np.float64)[..., :3]


def difference(one: Path, other: Path) -> float:
    """How far two pictures of the same size are apart; infinite if they differ in size."""
    first, second = dots(one), dots(other)
    if first.shape != second.shape:
        return float("inf")
    return float(np.sqrt(np.mean((_squares(first) - _squares(second)) ** 2)))


def _squares(picture: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    rows, columns = (count // SQUARE * SQUARE for count in picture.shape[:2])
    cut = picture[:rows, :columns]
    return cut.reshape(rows // SQUARE, SQUARE, columns // SQUARE, SQUARE, 3).mean(axis=(1, 3))


def like_the_kept_one(fresh: Path, kept: Path) -> bool:
    """True if a picture is like the kept one; with COPPERPATH_UPDATE_PICTURES=1 it is kept
    itself: look at it before committing it."""
    if os.environ.get("COPPERPATH_UPDATE_PICTURES"):
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_bytes(fresh.read_bytes())
    return difference(fresh, kept) <= ALIKE
