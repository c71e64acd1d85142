"""Light on a panel's plane from beam, sky and ground.

The sky's diffuse light is treated as in J. E. Hay and J. A. Davies (1980): part of it comes from
around the sun, the rest evenly. Ground light comes evenly from below the horizon.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray, Mount
from copperpath.site.light import Light
from copperpath.site.sun import Sun


def plane_light(
    light: Light, sun: Sun, mount: Mount, ground_reflects: FloatArray | float
) -> FloatArray:
    """Light on a panel that stays as it stands; see `light_on`."""
    return light_on(light, sun, mount.tilt_deg, mount.facing_deg, ground_reflects)


def light_on(
    light: Light,
    sun: Sun,
    tilt_deg: FloatArray | float,
    facing_deg: FloatArray | float,
    ground_reflects: FloatArray | float,
) -> FloatArray:
    """Light on a plane, shape (time,) [W/m²].

    Parameters
    ----------
    light, sun : Light, Sun
        Over the same times.
    tilt_deg, facing_deg : ndarray (time,) or float [degrees]
        Tilt from horizontal and direction faced.
    ground_reflects : ndarray (time,) or float
        Share of the level light that the ground throws back.
    """
    from pvlib.irradiance import get_total_irradiance

    if np.ndim(tilt_deg) == 0 and tilt_deg == 0.0:
        # Beam, sky and nothing from the ground: the level light itself.
        return light.share * np.maximum(light.level, 0.0)
    found = get_total_irradiance(
        tilt_deg,
        facing_deg,
        sun.apparent_zenith_deg,
        sun.azimuth_deg,
        light.beam,
        light.level,
        light.diffuse,
        dni_extra=sun.beyond_air,
        albedo=ground_reflects,
        model="haydavies",
    )
    total = np.nan_to_num(np.asarray(found["poa_global"], dtype=np.float64))
    return light.share * np.maximum(total, 0.0)
