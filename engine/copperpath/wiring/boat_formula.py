"""The wire-size formula of boat wiring: circular mils = K I L / E."""

from __future__ import annotations

import math

from copperpath.wiring.ampacity import area_of_gauge
from copperpath.wiring.standard_sizes import GAUGES

K = 10.75
"""Ohms of a foot of copper of one circular mil, warm: ABYC E-11."""

FOOT_M = 0.3048
CIRCULAR_MIL_M2 = math.pi / 4.0 * (25.4e-6) ** 2


def needed_area(amps: float, round_trip_m: float, volts_lost: float) -> float:
    """Copper that loses no more than `volts_lost` out and back [m²].

    Parameters
    ----------
    amps : float
    round_trip_m : float
        Out and back [m].
    volts_lost : float
        What may be lost [V].
    """
    mils = K * amps * (round_trip_m / FOOT_M) / volts_lost
    return mils * CIRCULAR_MIL_M2


def smallest_gauge(area_m2: float) -> int | None:
    """The smallest gauge that is sold with so much copper, 0 to -3 for 1/0 to 4/0; None beyond.

    A gauge counts from half a percent below on: printed charts round circular mils so.
    """
    fitting = [gauge for gauge in GAUGES if area_of_gauge(gauge) >= 0.995 * area_m2]
    return max(fitting) if fitting else None
