"""Key-state columns: heat goes with the mean square, which no single solve gives.

Each step is solved in a few columns with weights; a radio's law only sees its `level`, 0 receiving,
1 fully keyed. A radio is silent, or at level h = mode_square / mode with probability
q = share * mode / h. Up to four radios: all products of states. More: singles, each radio's two
states in turn with the others at their mean, plus the mean with weight 1 - (number of radios).
The last two columns have weight 0 (but for singles' mean): the mean, on which latches are judged,
and the worst instant, every radio that is on keyed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from copperpath.plugin_api import FloatArray

MOST_IN_PRODUCT = 4


@dataclass(frozen=True, slots=True)
class Radio:
    """One keyed device. `share` (time,) is how much of each step it is keyed, 0 when off."""

    share: FloatArray
    mode: float
    mode_square: float


@dataclass(frozen=True, slots=True)
class Columns:
    """Levels and weights.

    Attributes
    ----------
    levels : ndarray (time, column, radio)
        0 receiving, 1 fully keyed.
    weights : ndarray (time, column)
        Sum to 1 over the columns; singles' mean may be negative.
    mean, worst : int
        Which column is the mean and which the worst instant.
    words : str
        How the columns were made, for the record.
    """

    levels: FloatArray
    weights: FloatArray
    mean: int
    worst: int
    words: str


def make_columns(radios: Sequence[Radio], steps: int) -> Columns:
    """The columns of a run of so many steps."""
    if not radios:
        return Columns(np.zeros((steps, 1, 0)), np.ones((steps, 1)), 0, 0, "no keyed radio")
    share = np.stack([radio.share for radio in radios])
    mode = np.array([radio.mode for radio in radios])[:, None]
    height = np.array([r.mode_square / r.mode if r.mode > 0.0 else 1.0 for r in radios])[:, None]
    mean_level = share * mode
    chance = mean_level / height
    worst_level = np.where(share > 0.0, 1.0, 0.0)
    if len(radios) <= MOST_IN_PRODUCT:
        levels, weights = _products(chance, height)
        words = "all products of key states"
    else:
        levels, weights = _singles(chance, height, mean_level)
        words = "each radio's key states in turn, the others at their mean"
    last = 1.0 - len(radios) if len(radios) > MOST_IN_PRODUCT else 0.0
    levels += [mean_level, worst_level]
    weights += [np.full(steps, last), np.zeros(steps)]
    count = len(levels)
    return Columns(
        np.ascontiguousarray(np.stack(levels).transpose(2, 0, 1)),
        np.ascontiguousarray(np.stack(weights).T),
        count - 2,
        count - 1,
        words,
    )


def _products(chance: FloatArray, height: FloatArray) -> tuple[list[FloatArray], list[FloatArray]]:
    levels: list[FloatArray] = []
    weights: list[FloatArray] = []
    for keyed in product((0.0, 1.0), repeat=len(chance)):
        down = np.array(keyed)[:, None]
        levels.append(np.broadcast_to(down * height, chance.shape))
        weights.append(np.prod(np.where(down > 0.5, chance, 1.0 - chance), axis=0))
    return levels, weights


def _singles(
    chance: FloatArray, height: FloatArray, mean_level: FloatArray
) -> tuple[list[FloatArray], list[FloatArray]]:
    levels: list[FloatArray] = []
    weights: list[FloatArray] = []
    for radio in range(len(chance)):
        for down in (0.0, 1.0):
            level = mean_level.copy()
            level[radio] = down * height[radio]
            levels.append(level)
            weights.append(chance[radio] if down else 1.0 - chance[radio])
    return levels, weights
