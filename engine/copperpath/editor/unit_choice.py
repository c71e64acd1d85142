"""Which units are proposed for a value of some dimension, the usual one first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, TypeAlias

from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities import MEANINGS

Measured: TypeAlias = Dimension | Literal["wire", "latitude", "longitude", "any"]
"""What a value measures, with what only cables, places and `let` have."""

_UNITS: dict[str, tuple[str, ...]] = {
    "voltage": ("V", "mV", "kV"),
    "current": ("A", "mA"),
    "power": ("W", "mW", "kW", "Wh/day", "kWh/day"),
    "resistance": ("ohm", "mohm"),
    "charge": ("Ah", "mAh"),
    "capacitance": ("F", "mF"),
    "energy": ("Wh", "kWh"),
    "temperature": ("degC", "degF"),
    "temperature_difference": ("K",),
    "thermal_resistance": ("K/W",),
    "heat_capacity": ("J/K", "kJ/K"),
    "length": ("m", "cm", "mm", "km", "ft", "in"),
    "mass": ("kg", "g", "lb", "oz"),
    "volume": ("L", "gal"),
    "flow": ("L/h", "gal/h"),
    "volume_per_energy": ("L/kWh", "gal/kWh"),
    "speed": ("m/s", "km/h", "kn", "mph"),
    "time": ("h", "min", "s", "days", "weeks"),
    "angle": ("deg",),
    "share": ("%",),
    "share_per_kelvin": ("%/K",),
    "irradiance": ("kWh/m2/day", "W/m2"),
    "number": (),
    "wire": ("mm2", "AWG"),
    "latitude": ("N", "S"),
    "longitude": ("E", "W"),
}

MEANING = {
    "V": "volts",
    "mV": "millivolts",
    "kV": "kilovolts",
    "A": "amperes",
    "mA": "milliamperes",
    "W": "watts",
    "mW": "milliwatts",
    "kW": "kilowatts",
    "ohm": "ohms",
    "mohm": "milliohms",
    "Wh/day": "watt-hours each day",
    "kWh/day": "kilowatt-hours each day",
    "kWh/m2/day": "kilowatt-hours a day on a square metre",
    "W/m2": "watts on a square metre",
    "Ah": "ampere-hours",
    "mAh": "milliampere-hours",
    "Wh": "watt-hours",
    "kWh": "kilowatt-hours",
    "degC": "degrees Celsius",
    "degF": "degrees Fahrenheit",
    "K": "kelvin, a difference",
    "F": "farads",
    "mF": "millifarads",
    "K/W": "kelvin for each watt",
    "J/K": "joules for each kelvin",
    "kJ/K": "kilojoules for each kelvin",
    "m": "metres",
    "cm": "centimetres",
    "mm": "millimetres",
    "km": "kilometres",
    "ft": "feet",
    "in": "inches",
    "kg": "kilograms",
    "g": "grams",
    "lb": "pounds",
    "oz": "ounces",
    "h": "hours",
    "min": "minutes",
    "s": "seconds",
    "days": "days",
    "weeks": "weeks",
    "deg": "degrees of angle",
    "L": "litres",
    "gal": "gallons of the United States",
    "L/h": "litres an hour",
    "gal/h": "gallons an hour",
    "L/kWh": "litres for each kilowatt-hour",
    "gal/kWh": "gallons for each kilowatt-hour",
    "m/s": "metres a second",
    "km/h": "kilometres an hour",
    "kn": "knots",
    "mph": "miles an hour",
    "%": "percent",
    "%/K": "percent for each kelvin",
    "mm2": "square millimetres",
    "AWG": "wire gauge",
    "N": "north",
    "S": "south",
    "E": "east",
}
"""What the units stand for."""


def units_for(measured: Measured, usual: str = "") -> Sequence[str]:
    """The units to propose; `usual`, if it is given, before the others."""
    if measured == "any":
        return [unit for key in (*MEANINGS, "wire") for unit in _UNITS.get(key, ())]
    rest = [unit for unit in _UNITS.get(measured, ()) if unit != usual]
    return [usual, *rest] if usual else rest
