"""Key-state columns: heat goes with the mean square, which no single solve gives.

Each step is solved in a few columns with weights; a radio's law only sees its `level`, 0 receiving,
1 fully keyed. A radio is silent, or at level h = mode_square / mode with probability
q = share * mode / h. Radios that are never keyed at once form a group, which is silent or has one
of them keyed; groups and all other radios are independent of each other. Up to sixteen products
of states are solved one by one. More: singles, each group's states in turn with the others at
their mean, plus the mean with weight 1 - (number of groups).
The columns from the mean on have weight 0 (but for singles' mean) and are always solved: the mean,
on which latches are judged, the worst instant, every radio that is on keyed, and where there are
groups, the other ways of keying one of each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

import numpy as np

from copperpath.plugin_api import FloatArray

MOST_PRODUCTS = 16

Group = tuple[int, ...]
"""Radios of which one at most is keyed, by number."""


@dataclass(frozen=True, slots=True)
class Radio:
    """One keyed device. `share` (time,) is how much of each step it is keyed, 0 when off; `peak_a`
    what it takes fully keyed, to tell which of a group is the worst [A]."""

    share: FloatArray
    mode: float
    mode_square: float
    peak_a: float = 0.0


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
        Which column is the mean and which the worst instant, that of the largest currents.
    words : str
        How the columns were made, for the record.
    """

    levels: FloatArray
    weights: FloatArray
    mean: int
    worst: int
    words: str

    @property
    def extremes(self) -> range:
        """Every way of keying one of each group, the worst instant first."""
        return range(self.worst, self.weights.shape[1])


def make_columns(radios: Sequence[Radio], steps: int, exclusive: Sequence[Group] = ()) -> Columns:
    """The columns of a run of so many steps; of each `exclusive` group one radio at most is
    keyed."""
    if not radios:
        return Columns(np.zeros((steps, 1, 0)), np.ones((steps, 1)), 0, 0, "no keyed radio")
    share = np.stack([radio.share for radio in radios])
    mode = np.array([radio.mode for radio in radios])[:, None]
    height = np.array([r.mode_square / r.mode if r.mode > 0.0 else 1.0 for r in radios])[:, None]
    mean_level = share * mode
    chance = mean_level / height
    groups = [*exclusive, *_alone(len(radios), exclusive)]
    states = [_states(group, chance, height) for group in groups]
    # Not numpy's product, which begins again at nothing beyond 63 radios.
    count = prod(len(each) for each in states)
    if count <= MOST_PRODUCTS:
        levels, weights = _products(states, len(radios), steps)
        words, last = "all products of key states", 0.0
    else:
        levels, weights = _singles(groups, states, mean_level)
        words = "each radio's key states in turn, the others at their mean"
        last = 1.0 - len(groups)
    if exclusive:
        words += "; one at most keyed of " + " and of ".join(str(len(g)) for g in exclusive)
    ways = _ways_to_key(radios, groups)
    levels += [mean_level, *(np.where(share > 0.0, way[:, None], 0.0) for way in ways)]
    weights += [np.full(steps, last), *(np.zeros(steps) for _ in ways)]
    mean = len(levels) - len(ways) - 1
    return Columns(
        np.ascontiguousarray(np.stack(levels).transpose(2, 0, 1)),
        np.ascontiguousarray(np.stack(weights).T),
        mean,
        mean + 1,
        words,
    )


State = tuple[FloatArray, dict[int, FloatArray]]
"""A group's state: its probability (time,), and the levels (time,) of its radios, by number."""


def _alone(count: int, exclusive: Sequence[Group]) -> list[Group]:
    grouped = {radio for group in exclusive for radio in group}
    return [(radio,) for radio in range(count) if radio not in grouped]


def _states(group: Group, chance: FloatArray, height: FloatArray) -> list[State]:
    """Nobody, then each of the group keyed alone."""
    silent = {radio: np.zeros(chance.shape[1]) for radio in group}
    nobody = np.maximum(1.0 - sum(chance[radio] for radio in group), 0.0)
    keyed: list[State] = [
        (chance[radio], {**silent, radio: np.full(chance.shape[1], height[radio, 0])})
        for radio in group
    ]
    return [(np.asarray(nobody), silent), *keyed]


def _products(
    states: list[list[State]], radios: int, steps: int
) -> tuple[list[FloatArray], list[FloatArray]]:
    levels: list[FloatArray] = []
    weights: list[FloatArray] = []
    for chosen in product(*states):
        level, weight = np.zeros((radios, steps)), np.ones(steps)
        for probability, own in chosen:
            weight = weight * probability
            for radio, values in own.items():
                level[radio] = values
        levels.append(level)
        weights.append(weight)
    return levels, weights


def _singles(
    groups: list[Group], states: list[list[State]], mean_level: FloatArray
) -> tuple[list[FloatArray], list[FloatArray]]:
    levels: list[FloatArray] = []
    weights: list[FloatArray] = []
    for _, own_states in zip(groups, states, strict=True):
        for probability, own in own_states:
            level = mean_level.copy()
            for radio, values in own.items():
                level[radio] = values
            levels.append(level)
            weights.append(probability)
    return levels, weights


def _ways_to_key(radios: Sequence[Radio], groups: list[Group]) -> list[FloatArray]:
    """Levels (radio,) with one of each group fully keyed: first that of the largest currents, then
    for each other radio the same with it in place of its group's largest."""
    first = np.zeros(len(radios))
    largest = [max(group, key=lambda radio: radios[radio].peak_a) for group in groups]
    first[largest] = 1.0
    ways = [first]
    for group, one in zip(groups, largest, strict=True):
        for other in group:
            if other != one:
                way = first.copy()
                way[one], way[other] = 0.0, 1.0
                ways.append(way)
    return ways
