"""The curve that parts with one direction share: nothing, then a bend, then a straight line."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, elementwise

START_SHARE = 0.05
"""Slope with which the curve begins, as a share of its last: a choice. From nothing at all, the
search for a point without current would only halve its way towards it."""


@elementwise
def one_way_amps(
    drop: Elementwise, knee: Elementwise, bend: Elementwise, ohm: Elementwise
) -> Elementwise:
    """Current [A] at a forward drop [V].

    None up to `knee` and none backwards; from a small slope it bends up over the next `bend` volts
    to a straight line of slope 1 / `ohm`. That spares the search for the operating point what an
    exponential would ask of it.
    """
    above = np.maximum(drop - knee, 0.0)
    bent = np.minimum(above, bend)
    curve = bent**2 / (2.0 * bend) + (above - bent)
    return (START_SHARE * above + (1.0 - START_SHARE) * curve) / ohm


def line_begins(knee: float, bend: float) -> float:
    """Where the straight line, made longer, meets zero current [V]."""
    return knee + 0.5 * (1.0 - START_SHARE) * bend
