"""Where the sun stands: pvlib's form of the algorithm of I. Reda and A. Andreas, "Solar position
algorithm for solar radiation applications", NREL/TP-560-34302 (2003), good to 0.0003 degrees.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.site.place import Place, day_of_year, moments

AT_ONCE = 20_000
"""Times worked out together: about 20 MB."""

USUAL_AIR_C = 12.0
"""Air temperature in the refraction formula; it moves the sun by less than 0.01 degrees."""


@dataclass(frozen=True, slots=True)
class Sun:
    """Position over time, arrays (time,).

    Attributes
    ----------
    zenith_deg, apparent_zenith_deg : ndarray (time,)
        Angle from straight up, without and with refraction [degrees].
    azimuth_deg : ndarray (time,)
        Direction, clockwise from true north [degrees].
    beyond_air : ndarray (time,)
        Sunlight outside the atmosphere, across the beam [W/m²].
    """

    zenith_deg: FloatArray
    apparent_zenith_deg: FloatArray
    azimuth_deg: FloatArray
    beyond_air: FloatArray

    @property
    def apparent_elevation_deg(self) -> FloatArray:
        """Height over the horizon as seen, with refraction [degrees]."""
        return 90.0 - self.apparent_zenith_deg


def sun_over_time(time_s: FloatArray, place: Place) -> Sun:
    """The sun at given times.

    Parameters
    ----------
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC.
    """
    # The algorithm sums some sixty terms for each time, all held at once.
    parts = [
        _some(time_s[start : start + AT_ONCE], place) for start in range(0, len(time_s), AT_ONCE)
    ]
    return Sun(
        np.concatenate([part.zenith_deg for part in parts]),
        np.concatenate([part.apparent_zenith_deg for part in parts]),
        np.concatenate([part.azimuth_deg for part in parts]),
        np.concatenate([part.beyond_air for part in parts]),
    )


def _some(time_s: FloatArray, place: Place) -> Sun:
    from pvlib.irradiance import get_extra_radiation
    from pvlib.solarposition import get_solarposition

    found = get_solarposition(
        moments(time_s),
        place.latitude_deg,
        place.longitude_deg,
        altitude=place.altitude_m,
        temperature=USUAL_AIR_C,
    )
    return Sun(
        found["zenith"].to_numpy(np.float64),
        found["apparent_zenith"].to_numpy(np.float64),
        found["azimuth"].to_numpy(np.float64),
        np.asarray(get_extra_radiation(day_of_year(time_s)), dtype=np.float64),
    )
