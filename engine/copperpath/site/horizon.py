"""Hills and trees around a station: they hide the sun while it stands behind them.

With the beam goes the light from around the sun (the share of the sky's light that J. E. Hay and
J. A. Davies give it: beam over the light outside the air). The rest of the sky is left as it is.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.site.light import Light
from copperpath.site.sun import Sun


def height_towards(horizon: Sequence[tuple[float, float]], azimuth_deg: FloatArray) -> FloatArray:
    """Height of the horizon in given directions, on straight lines between those that are given,
    around the compass [degrees]."""
    directions, heights = (np.array(each, dtype=np.float64) for each in zip(*horizon, strict=True))
    return np.interp(azimuth_deg, directions, heights, period=360.0)


def hidden(horizon: Sequence[tuple[float, float]], sun: Sun) -> BoolArray:
    """When the sun, as it is seen, stands below the horizon, shape (time,)."""
    return sun.apparent_elevation_deg < height_towards(horizon, sun.azimuth_deg)


def behind(light: Light, sun: Sun, horizon: Sequence[tuple[float, float]]) -> Light:
    """The light that is left of an open place's."""
    if not horizon:
        return light
    gone = hidden(horizon, sun)
    around = np.clip(light.beam / sun.beyond_air, 0.0, 1.0)
    left = light.diffuse * (1.0 - around)
    return Light(
        np.where(gone, np.minimum(left, light.level), light.level),
        np.where(gone, 0.0, light.beam),
        np.where(gone, left, light.diffuse),
        light.share,
    )
