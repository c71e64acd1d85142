"""Random days about given means: how clear each is, and whether rime or snow covers the panels.

How clear. V. A. Graham, K. G. T. Hollands and T. E. Unny, "A time series model for Kt with
application to global synthetic weather generation", Solar Energy 40 (1988) 83: a normal variable
that remembers the day before by 0.29 (that figure from memory) is brought to the distribution of
P. Bendt, M. Collares-Pereira and A. Rabl, "The frequency distribution of daily insolation values",
Solar Energy 27 (1981) 1: a density that rises or falls as exp(steepness x clearness) between a
least and a most clearness, steep enough for the mean. The least clearness, 0.05, is theirs, from
memory. For the most, the place's own clear sky is taken; a local value is what G. Y. Saunier,
T. A. Reddy and S. Kumar, Solar Energy 38 (1987) 169, advise. As the distribution keeps its form
when its scale is changed, it is worked out for the share of the clear sky's light.

What covers the panels. Whole days in spells: each day is covered or not, and only the day before
matters (a Markov chain of two states; common practice, no source). The chances are such that every
day is covered as often as its month says, and spells have the mean length asked for as long as the
month's share does not change.

How warm a day is stands in `day_to_day.py`; light, cover and warmth know nothing of each other.

The numbers come from `numpy`'s PCG64, one stream each for light and every cover, by way of evenly
spread numbers alone, so that a seed draws the same days on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import BoolArray, FloatArray

LIGHT_REMEMBERS = 0.29
LEAST_CLEARNESS = 0.05
"""Light on the level under the darkest cloud, over that outside the atmosphere."""

STEEPEST = 400.0
"""Days whose mean asks for a steeper distribution than this are all alike."""

HALVINGS = 60
NEARLY = 1e-15
"""Keeps a logarithm from that of nothing."""


@dataclass(frozen=True, slots=True)
class DayMeans:
    """What the days of a run are like in the mean.

    Attributes
    ----------
    share : ndarray (day,)
        Mean share of the clear sky's light on panels that nothing covers.
    least : ndarray (day,)
        The share that the darkest day has.
    given : ndarray (day,) of bool
        Days whose share is given and is not drawn.
    covered : tuple of ndarray (day,)
        Of each cover, how often it lies on such a day, 0 to 1.
    spell_days : float
        Mean length of a spell of cover [days].
    """

    share: FloatArray
    least: FloatArray
    given: BoolArray
    covered: tuple[FloatArray, ...]
    spell_days: float


@dataclass(frozen=True, slots=True)
class Days:
    """Days as drawn, each (day,): the share of the clear sky's light on panels that nothing covers,
    and whether anything does."""

    share: FloatArray
    covered: BoolArray


def draw_days(means: DayMeans, seed: int) -> Days:
    """The days of one season; the same for the same means and seed."""
    from scipy.special import ndtr

    count = len(means.share)
    light, *rimes = (_even(count, seed, stream) for stream in range(1 + len(means.covered)))
    ranks = ndtr(remembering(light, LIGHT_REMEMBERS))
    share = share_at(ranks, means.share, means.least)
    covered = np.zeros(count, dtype=bool)
    for even, often in zip(rimes, means.covered, strict=True):
        covered |= spells(even, often, means.spell_days)
    return Days(np.where(means.given, means.share, share), covered)


def _even(count: int, seed: int, stream: int) -> FloatArray:
    """Numbers evenly spread between 0 and 1."""
    sequence = np.random.SeedSequence((seed, stream))
    return np.random.Generator(np.random.PCG64(sequence)).random(count)


def remembering(even: FloatArray, remembers: float) -> FloatArray:
    """A normal variable (day,) of mean 0 and deviation 1, each day correlated by `remembers` with
    the one before, from evenly spread numbers (day,) between 0 and 1."""
    from scipy.special import ndtri

    # `random` may give 0 itself, whose normal variable is at minus infinity.
    fresh = ndtri(np.clip(even, 1e-12, 1.0 - 1e-12))
    found = np.empty(len(fresh))
    before, part = fresh[0] if len(fresh) else 0.0, np.sqrt(1.0 - remembers**2)
    for day, new in enumerate(fresh):
        before = new if day == 0 else remembers * before + part * new
        found[day] = before
    return found


def share_at(ranks: FloatArray, mean: FloatArray, least: FloatArray) -> FloatArray:
    """The share below which a part `ranks` of all days lies, by the distribution of Bendt and
    others between `least` and 1, so steep that it has the mean; all (day,).

    A mean of 1 or more has no spread. Where the mean is not above twice the least share, half of it
    is taken as the least.
    """
    low = np.minimum(least, 0.5 * mean)
    at = (mean - low) / (1.0 - low)
    steep = steepness(at)
    # By the side of the distribution that is steep, so that no power is too large for a number.
    side = np.where(steep > 0.0, 1.0 - ranks, ranks)
    fall = -np.maximum(np.abs(steep), 1e-9)
    way = np.log1p(np.maximum(side * np.expm1(fall), NEARLY - 1.0)) / fall
    way = np.clip(way, 0.0, 1.0)
    found = low + (1.0 - low) * np.where(steep > 0.0, 1.0 - way, way)
    shares: FloatArray = np.where(np.abs(steep) >= STEEPEST, mean, found)
    return shares


def steepness(at: FloatArray) -> FloatArray:
    """How steep exp(steepness x) is between 0 and 1 when its mean is `at`, any shape."""
    low, high = np.full(np.shape(at), -STEEPEST), np.full(np.shape(at), STEEPEST)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        under = _mean_of(middle) < at
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    found: FloatArray = 0.5 * (low + high)
    return found


def _mean_of(steep: FloatArray) -> FloatArray:
    """Mean of the density exp(steep x) between 0 and 1."""
    safe = np.where(np.abs(steep) < 1e-5, 1.0, steep)
    found = 0.5 / np.tanh(0.5 * safe) + 0.5 - 1.0 / safe
    return np.where(np.abs(steep) < 1e-5, 0.5 + steep / 12.0, found)


def spells(even: FloatArray, share: FloatArray, spell_days: float) -> BoolArray:
    """Which days (day,) are covered, from evenly spread numbers (day,) between 0 and 1.

    A spell goes on with a chance of 1 - 1 / spell_days. Where that and the share of covered days
    do not go together, the share is kept.
    """
    found = np.zeros(len(even), dtype=bool)
    covered, before = False, 0.0
    for day, drawn in enumerate(even):
        now = float(share[day])
        if day == 0 or before <= 0.0 or before >= 1.0:
            chance = now
        else:
            stays = min(1.0 - 1.0 / spell_days, now / before)
            stays = max(stays, (now - (1.0 - before)) / before)
            chance = stays if covered else (now - before * stays) / (1.0 - before)
        covered = bool(drawn < chance)
        found[day], before = covered, now
    return found
