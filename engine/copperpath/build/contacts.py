"""Resistances of fuses and of mated contacts, small beside a cable and yet felt when keyed."""

from __future__ import annotations

import math

FUSE_OHM = {
    5.0: 0.018,
    7.5: 0.011,
    10.0: 0.0077,
    15.0: 0.0048,
    20.0: 0.0034,
    25.0: 0.0025,
    30.0: 0.0020,
}
"""Cold resistance of blade fuses by rating [A -> ohm]: from memory."""
FUSE_BASIS = "cold resistance of a blade fuse, from memory; the holder is not counted"

CONTACT_OHM = {
    "genderless": 0.0006,
    "bullet": 0.0005,
    "ring": 0.0002,
    "pv_lock": 0.00035,
    "screw": 0.001,
    "barrel": 0.022,
    "accessory_plug": 0.030,
}
"""Resistance of one mated contact by kind [ohm]: common ranges, middle taken, from memory
(genderless 0.4 to 0.8 mohm, barrel 15 to 30 mohm, accessory plug 10 to 50 mohm)."""
CONTACT_BASIS = "contact in good order, middle of the common range, from memory; worn ones 5 times"

CONTACTS_PER_PAIR = 2


def fuse_ohm(rating_a: float) -> float:
    """Cold resistance of a fuse [ohm]; between and beyond the listed ratings on a straight line
    over the logarithms of both.

    Examples
    --------
    >>> round(1e3 * fuse_ohm(10.0), 2)
    7.7
    """
    ratings = list(FUSE_OHM)
    place = min(max(sum(rating < rating_a for rating in ratings), 1), len(ratings) - 1)
    low, high = ratings[place - 1], ratings[place]
    slope = math.log(FUSE_OHM[high] / FUSE_OHM[low]) / math.log(high / low)
    return FUSE_OHM[low] * math.exp(slope * math.log(rating_a / low))


def joint_ohm(kind: str, pairs: float) -> float:
    """Resistance of mated pairs, two contacts each [ohm].

    Examples
    --------
    >>> round(1e3 * joint_ohm("genderless", 2), 2)
    2.4
    """
    return CONTACT_OHM[kind] * CONTACTS_PER_PAIR * pairs
