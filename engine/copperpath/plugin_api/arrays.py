"""Axes, units and signs, written once.

Axes
    Arrays of a run have the order ``(column, time)`` inside the solver and ``(time,)`` once the
    key-state columns are weighted together; any axis of devices or nodes stands before them.
    Time is always last, except in the solver's own buffers, which say so.

Units
    Inside: V, A, W, J, s, K, ohm, m, m², kg, coulomb. A *charge* of a battery in a result is a
    share of its rated capacity, 0 to 1.

Signs
    A current is positive INTO a device at its terminal, so a load takes a positive current and a
    source a negative one. A cable's current is positive from its `start` to its `end`.
    Power taken by a device is the sum over its terminals of voltage times current.
    A panel faces degrees clockwise from true north: 0 north, 90 east, 180 south, 270 west.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

FloatArray: TypeAlias = NDArray[np.float64]
"""float64, any shape; the docstring that uses it says shape and unit."""

BoolArray: TypeAlias = NDArray[np.bool_]
"""bool, any shape."""
