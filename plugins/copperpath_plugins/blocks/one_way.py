"""The curve that parts with one direction share: nothing, then a bend, then a straight line."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, elementwise


@elementwise
def one_way_amps(
    drop: Elementwise, knee: Elementwise, bend: Elementwise, ohm: Elementwise
) -> Elementwise:
    """Current [A] at a forward drop [V].

    None up to `knee` and none backwards; over the next `bend` volts the curve is a parabola, and
    from there a straight line of slope 1 / `ohm`. Curve and slope have no jump, which spares the
    search for the operating point what an exponential would ask of it.
    """
    above = np.maximum(drop - knee, 0.0)
    bent = np.minimum(above, bend)
    return (bent**2 / (2.0 * bend) + (above - bent)) / ohm
