"""Light of the clear sky: P. Ineichen and R. Perez, Solar Energy 73 (2002) 151, with the monthly
turbidity map that comes with pvlib."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.site.light import Light
from copperpath.site.place import Place, day_of_year
from copperpath.site.sun import Sun

MONTH_MIDDLES = (16, 45.5, 75, 105.5, 136, 166.5, 197, 228, 258.5, 289, 319.5, 350)
"""Day of the year at the middle of each month."""


def clear_light(time_s: FloatArray, place: Place, sun: Sun) -> Light:
    """Light of the clear sky, all of it.

    Parameters
    ----------
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC, at which `sun` was worked out.
    """
    from pvlib.atmosphere import alt2pres, get_absolute_airmass, get_relative_airmass
    from pvlib.clearsky import ineichen

    # Below the horizon there is no air mass; one of the horizon is put in and the light is zero.
    up = sun.apparent_zenith_deg < 90.0
    zenith = np.where(up, sun.apparent_zenith_deg, 90.0)
    airmass = get_absolute_airmass(get_relative_airmass(zenith), alt2pres(place.altitude_m))
    found = ineichen(
        zenith,
        airmass,
        turbidity_over_time(time_s, place),
        altitude=place.altitude_m,
        dni_extra=sun.beyond_air,
    )
    level, beam, diffuse = (
        np.where(up, np.nan_to_num(np.asarray(found[name], dtype=np.float64)), 0.0)
        for name in ("ghi", "dni", "dhi")
    )
    return Light(level, beam, diffuse, np.ones(time_s.shape))


def turbidity_over_time(time_s: FloatArray, place: Place) -> FloatArray:
    """Linke turbidity of the place, shape (time,): monthly values of the map, straight lines
    between the middles of the months."""
    import pandas
    from pvlib.clearsky import lookup_linke_turbidity

    months = pandas.DatetimeIndex([f"2015-{month:02}-15" for month in range(1, 13)], tz="UTC")
    values = lookup_linke_turbidity(
        months, place.latitude_deg, place.longitude_deg, interp_turbidity=False
    ).to_numpy(np.float64)
    middles = np.array(MONTH_MIDDLES)
    days = np.concatenate([[middles[-1] - 365.0], middles, [middles[0] + 365.0]])
    around = np.concatenate([values[-1:], values, values[:1]])
    found: FloatArray = np.interp(day_of_year(time_s), days, around)
    return found
