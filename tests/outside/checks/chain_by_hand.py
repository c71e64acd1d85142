"""A year of a panel and a controller by pvlib and plain arithmetic, without anything of ours.

Hours as the file has them, the sun at the middle of each; light on the plane; a cell temperature;
five published terms for the label; the most powerful point; a fixed efficiency.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas
import pvlib

TILT_DEG, FACING_DEG, REFLECTS = 55.0, 180.0, 0.2
V_MP, I_MP, V_OC, I_SC = 31.0, 8.71, 38.3, 9.43
ALPHA, BETA = 0.005658, -0.13788
TERMS = {
    "I_L_ref": 9.45232,
    "I_o_ref": 3.2246e-10,
    "a_ref": 1.59128,
    "R_sh_ref": 125.798,
    "R_s": 0.297814,
}
"""A published label and the terms that were published for it (De Soto 2006, numbers from the test
suite of pvlib)."""
NOMINAL_C, TURNED_TO_POWER, ABSORBED = 45.0, 0.2, 0.9
EFFICIENCY, IDLE_A, BATTERY_V = 0.95, 0.012, 13.13
AIR_LOW_C, AIR_HIGH_C = 3.0, 7.0


@dataclass(frozen=True)
class HandYear:
    """Hourly means over a year: light on the plane [W/m²], panel and battery side [W]."""

    plane: np.ndarray
    panel: np.ndarray
    battery: np.ndarray


def most_power(light: Any, cell_c: Any) -> np.ndarray:
    """Most power of the label's panel [W]."""
    terms = TERMS
    photo, saturation, series, shunt, slope = pvlib.pvsystem.calcparams_desoto(
        np.maximum(light, 1e-6),
        cell_c,
        ALPHA,
        terms["a_ref"],
        terms["I_L_ref"],
        terms["I_o_ref"],
        terms["R_sh_ref"],
        terms["R_s"],
        EgRef=1.121,
        dEgdT=-0.0002677,
    )
    found = pvlib.pvsystem.max_power_point(photo, saturation, series, shunt, slope)
    return np.asarray(found["p_mp"])


def power_per_kelvin() -> float:
    """How the power of these terms changes with warmth, as a label says it."""
    cold, warm = most_power(np.array([1000.0, 1000.0]), np.array([25.0, 50.0]))
    return float((warm / cold - 1.0) / 25.0)


def usual_air(hour: np.ndarray) -> np.ndarray:
    """Coolest at five, warmest at three in the afternoon, half a cosine each way [°C]."""
    since = (hour - 5.0) % 24.0
    up = 0.5 - 0.5 * np.cos(np.pi * since / 10.0)
    down = 0.5 + 0.5 * np.cos(np.pi * (since - 10.0) / 14.0)
    return AIR_LOW_C + (AIR_HIGH_C - AIR_LOW_C) * np.where(since <= 10.0, up, down)


def year_by_hand(
    year: Any,
    latitude: float,
    longitude: float,
    altitude: float,
    ahead_h: int,
    model: str,
    own_air: bool,
) -> HandYear:
    """The year of an hourly file; `model` is how the sky's light comes to the plane, `own_air`
    takes the file's air in place of the same day all year."""
    start = pandas.Timestamp("2025-01-01", tz="UTC") - pandas.Timedelta(hours=ahead_h)
    times = start + pandas.to_timedelta(np.arange(8760) + 0.5, unit="h")
    sun = pvlib.solarposition.get_solarposition(times, latitude, longitude, altitude=altitude)
    beyond = pvlib.irradiance.get_extra_radiation(times.day_of_year.to_numpy())
    beam, level, rest = (year[name].to_numpy(float) for name in ("dni", "ghi", "dhi"))
    plane = pvlib.irradiance.get_total_irradiance(
        TILT_DEG,
        FACING_DEG,
        sun["apparent_zenith"].to_numpy(),
        sun["azimuth"].to_numpy(),
        beam,
        level,
        rest,
        dni_extra=np.asarray(beyond),
        airmass=pvlib.atmosphere.get_relative_airmass(sun["apparent_zenith"].to_numpy()),
        albedo=REFLECTS,
        model=model,
    )["poa_global"]
    light = np.maximum(np.nan_to_num(np.asarray(plane)), 0.0)
    hours = (np.arange(8760) + 0.5) % 24.0
    air = year["temp_air"].to_numpy(float) if own_air else usual_air(hours)
    cell = air + (NOMINAL_C - 20.0) * light / 800.0 * (1.0 - TURNED_TO_POWER / ABSORBED)
    panel = most_power(light, cell)
    return HandYear(light, panel, EFFICIENCY * panel - IDLE_A * BATTERY_V)
