"""What a small turbine makes of the wind: at one speed, and on average over gusts and lulls.

The curve between cut-in and rated speed is that of the power in the wind, which goes with the cube
of its speed. Speeds over weeks are spread about their mean as W. E. Rayleigh's distribution says
(the Weibull distribution of shape 2; IEC 61400-1 assumes it for standard sites): faster than v for
a share exp(-(pi/4) (v/mean)²) of the time. The mean power is the integral of the curve's slope
times that share, which has a closed form.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import FloatArray

SEA_LEVEL_DENSITY = 1.225
"""kg/m³ at 15 °C, ISO 2533."""

LEAST_MEAN = 0.01
"""m/s; up to here it is calm, and a smaller mean would divide by nothing."""

_erf = np.vectorize(math.erf, otypes=[np.float64])


@dataclass(frozen=True, slots=True)
class PowerCurve:
    """Nothing up to `cut_in`, `rating` [W] from `rated_wind` on, nothing above `cut_out` [m/s]."""

    rating: float
    cut_in: float
    rated_wind: float
    cut_out: float

    def full_from(self, density: FloatArray) -> FloatArray:
        """Speed at which the rating is reached in air of that density [m/s]."""
        cubes = (self.rated_wind**3 - self.cut_in**3) * SEA_LEVEL_DENSITY / density
        return np.asarray(np.cbrt(self.cut_in**3 + cubes))

    def steady(self, wind: FloatArray, density: FloatArray) -> FloatArray:
        """Power in a steady wind [W]."""
        full = self.full_from(density)
        share = (wind**3 - self.cut_in**3) / (full**3 - self.cut_in**3)
        running = wind <= self.cut_out
        return np.where(running, self.rating * np.clip(share, 0.0, 1.0), 0.0)

    def over_gusts(self, mean: FloatArray, density: FloatArray) -> FloatArray:
        """Mean power where the speeds have that mean and Rayleigh's distribution [W]."""
        blows, mean = mean > LEAST_MEAN, np.maximum(mean, LEAST_MEAN)
        full = self.full_from(density)
        top = np.minimum(full, self.cut_out)
        a = math.pi / 4.0 / mean**2
        cubes = 3.0 * (_area(top, a) - _area(np.asarray(self.cut_in), a))
        lost = top**3 - self.cut_in**3
        made = cubes - lost * np.exp(-a * self.cut_out**2)
        share = np.maximum(made, 0.0) / (full**3 - self.cut_in**3)
        return np.where(blows, self.rating * share, 0.0)


def _area(speed: FloatArray, a: FloatArray) -> FloatArray:
    """Integral of v² exp(-a v²) from 0 to a speed."""
    bell = math.sqrt(math.pi) / (4.0 * a**1.5) * _erf(np.sqrt(a) * speed)
    return np.asarray(bell - speed * np.exp(-a * speed**2) / (2.0 * a))


def air_density(altitude_m: float, air_k: FloatArray) -> FloatArray:
    """Density of the air [kg/m³], by the standard atmosphere's pressure (ISO 2533)."""
    pressure = 101_325.0 * (1.0 - 0.0065 * altitude_m / 288.15) ** 5.25588
    return np.asarray(pressure / (287.053 * air_k))
