"""Energy held under a rest voltage that runs in straight lines over the charge."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray


def area_below(
    charge: FloatArray | float, charges: tuple[float, ...], volts: tuple[float, ...]
) -> FloatArray:
    """Area under the curve through (charges, volts) from no charge to `charge`; the first of
    `charges` is 0. Times the rated charge [C] it is energy [J]."""
    points, heights = np.array(charges), np.array(volts)
    below = np.concatenate([[0.0], np.cumsum(np.diff(points) * 0.5 * (heights[1:] + heights[:-1]))])
    place = np.clip(np.searchsorted(points, charge) - 1, 0, len(points) - 2)
    mean = 0.5 * (np.interp(charge, points, heights) + heights[place])
    return np.asarray(below[place] + (charge - points[place]) * mean)
