"""What each dimension of a parameter is called, how it is written, and what range is believable.

Not here: the units themselves (`units`).
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities.units import (
    ANGLE,
    AREA,
    CAPACITANCE,
    CHARGE,
    CURRENT,
    ENERGY,
    GAUGE,
    LENGTH,
    MASS,
    PLAIN,
    POWER,
    RESISTANCE,
    SPEED,
    TIME,
    VOLTAGE,
    VOLUME,
    WARMTH,
    Dims,
    combined,
)

FLOW: Dims = combined(VOLUME, TIME, -1)
PER_ENERGY: Dims = combined(VOLUME, ENERGY, -1)
LIGHT: Dims = combined(POWER, AREA, -1)
PER_KELVIN: Dims = combined(PLAIN, WARMTH, -1)
PER_WATT: Dims = combined(WARMTH, POWER, -1)
HEAT_CAPACITY: Dims = combined(ENERGY, WARMTH, -1)


@dataclass(frozen=True, slots=True)
class Meaning:
    """One dimension for people.

    `noun` reads after "takes" or "is" ("a charge"); `example` is typeable; `low` and `high`
    bound what is believable in a radio station [SI]: beyond them a unit was mistyped.
    """

    noun: str
    example: str
    unit: str
    dims: Dims
    low: float
    high: float
    absolute: bool = False


MEANINGS: dict[Dimension, Meaning] = {
    "voltage": Meaning("a voltage", "12.8 V", "V", VOLTAGE, -2e3, 2e3),
    "current": Meaning("a current", "2.5 A", "A", CURRENT, -1e4, 1e4),
    "power": Meaning("a power", "6 W", "W", POWER, -1e6, 1e6),
    "resistance": Meaning("a resistance", "40 mohm", "ohm", RESISTANCE, -1e6, 1e6),
    "charge": Meaning("a charge", "12 Ah", "Ah", CHARGE, -3.6e8, 3.6e8),
    "capacitance": Meaning("a capacitance", "58 F", "F", CAPACITANCE, -1e5, 1e5),
    "energy": Meaning("an energy", "150 Wh", "Wh", ENERGY, -3.6e10, 3.6e10),
    "temperature": Meaning("a temperature", "5 degC", "degC", WARMTH, 173.15, 473.15, True),
    "temperature_difference": Meaning(
        "a difference of temperature", "6 K", "K", WARMTH, -200.0, 200.0
    ),
    "thermal_resistance": Meaning(
        "a warming for each power", "1.5 K/W", "K/W", PER_WATT, -1e3, 1e3
    ),
    "heat_capacity": Meaning("a heat for each kelvin", "5000 J/K", "J/K", HEAT_CAPACITY, -1e8, 1e8),
    "length": Meaning("a length", "1.5 m", "m", LENGTH, -1e5, 1e5),
    "mass": Meaning("a mass", "1.2 kg", "kg", MASS, -1e5, 1e5),
    "volume": Meaning("a volume", "3 L", "L", VOLUME, -1e3, 1e3),
    "flow": Meaning("a volume for each time", "0.2 L/h", "L/h", FLOW, -1.0, 1.0),
    "volume_per_energy": Meaning(
        "a volume for each energy", "0.5 L/kWh", "L/kWh", PER_ENERGY, -1e-6, 1e-6
    ),
    "speed": Meaning("a speed", "6 m/s", "m/s", SPEED, -200.0, 200.0),
    "time": Meaning("a time", "48 h", "s", TIME, -1e9, 1e9),
    "angle": Meaning("an angle", "30 deg", "deg", ANGLE, -720.0, 720.0),
    "share": Meaning("a share", "15 %", "%", PLAIN, -1e3, 1e3),
    "share_per_kelvin": Meaning(
        "a share for each kelvin", "-0.30 %/K", "%/K", PER_KELVIN, -0.1, 0.1
    ),
    "irradiance": Meaning(
        "a light intensity", "2.1 kWh/m2/day", "kWh/m2/day", LIGHT, -2000.0, 2000.0
    ),
    "number": Meaning("a plain number", "4", "", PLAIN, -1e9, 1e9),
}
"""Believable ranges are our own choice: wide enough for any station, narrow enough for a
milliohm typed as a megohm."""

_OTHERS: tuple[tuple[Dims, str], ...] = (
    (AREA, "an area"),
    (GAUGE, "a wire gauge"),
    (combined(RESISTANCE, LENGTH, -1), "a resistance for each length"),
    (combined(MASS, LENGTH, -1), "a mass for each length"),
    (combined(PLAIN, TIME, -1), "a share for each time"),
)


def noun_of(dims: Dims, *, absolute: bool = False, percent: bool = False) -> str:
    """What a value with these dimensions is, with its article: "a current"."""
    if dims == WARMTH:
        return "a temperature" if absolute else "a difference of temperature"
    if dims == PLAIN:
        return "a share" if percent else "a plain number"
    for meaning in MEANINGS.values():
        if meaning.dims == dims:
            return meaning.noun
    for others, noun in _OTHERS:
        if others == dims:
            return noun
    return "a mixture of units that no setting takes"
