"""Air temperature over the day, between the coolest and the warmest that the station states."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.station import SiteSettings

COOLEST_S = 5.0 * 3600.0
WARMEST_S = 15.0 * 3600.0
"""05:00 and 15:00 on the station's clock: common practice, no source."""

DAY_S = 86_400.0


def air_over_day(
    clock: FloatArray, low_k: FloatArray | float, high_k: FloatArray | float
) -> FloatArray:
    """Temperature at given times of day: half a cosine up, another down [K].

    Parameters
    ----------
    clock : ndarray (time,) [s]
        Seconds after midnight.
    low_k, high_k : ndarray (time,) or float [K]
        Coolest and warmest of the day.
    """
    since = np.mod(clock - COOLEST_S, DAY_S)
    rising = WARMEST_S - COOLEST_S
    falling = DAY_S - rising
    way = np.where(since < rising, since / rising, 1.0 + (since - rising) / falling)
    return low_k + (high_k - low_k) * 0.5 * (1.0 - np.cos(np.pi * way))


def coldest_air(settings: SiteSettings) -> float:
    """The coldest that the wiring may meet: the record, or else the coolest that is stated [K]."""
    if settings.record_low_k is not None:
        return settings.record_low_k
    return min([settings.air_low_k, *(low for low, _ in settings.air_by_month.values())])


def warmest_air(settings: SiteSettings) -> float:
    """The warmest that is stated [K]."""
    return max([settings.air_high_k, *(high for _, high in settings.air_by_month.values())])
