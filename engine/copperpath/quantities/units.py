"""The table of units that a station file may use, and how a written unit is read.

A small table of our own, because reading a file must feel instant and the general units library
takes a third of a second to start; tests hold every entry against that library. Not here: what
a number is for (`dimensions`) and how numbers are shown (`show`).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TypeAlias

Dims: TypeAlias = tuple[int, int, int, int, int, int, int]
"""Powers of length, mass, time, current, temperature, angle and wire gauge."""

PLAIN: Dims = (0, 0, 0, 0, 0, 0, 0)
LENGTH: Dims = (1, 0, 0, 0, 0, 0, 0)
AREA: Dims = (2, 0, 0, 0, 0, 0, 0)
VOLUME: Dims = (3, 0, 0, 0, 0, 0, 0)
MASS: Dims = (0, 1, 0, 0, 0, 0, 0)
TIME: Dims = (0, 0, 1, 0, 0, 0, 0)
CURRENT: Dims = (0, 0, 0, 1, 0, 0, 0)
WARMTH: Dims = (0, 0, 0, 0, 1, 0, 0)
ANGLE: Dims = (0, 0, 0, 0, 0, 1, 0)
GAUGE: Dims = (0, 0, 0, 0, 0, 0, 1)
SPEED: Dims = (1, 0, -1, 0, 0, 0, 0)
CHARGE: Dims = (0, 0, 1, 1, 0, 0, 0)
ENERGY: Dims = (2, 1, -2, 0, 0, 0, 0)
POWER: Dims = (2, 1, -3, 0, 0, 0, 0)
VOLTAGE: Dims = (2, 1, -3, -1, 0, 0, 0)
RESISTANCE: Dims = (2, 1, -3, -2, 0, 0, 0)
CAPACITANCE: Dims = (-2, -1, 4, 2, 0, 0, 0)

INCH = 0.0254
POUND = 0.45359237
ZERO_CELSIUS_K = 273.15


@dataclass(frozen=True, slots=True)
class Unit:
    """SI value = written value * factor + zero. `absolute` marks a point on a temperature scale;
    angles stay in degrees, gauges are numbers of the AWG scale."""

    factor: float
    dims: Dims
    zero: float = 0.0
    absolute: bool = False


class UnitProblem(Exception):
    """A unit that is not in the table; `near` lists words that may have been meant."""

    def __init__(self, unit: str, near: tuple[str, ...]) -> None:
        super().__init__(f"unknown unit {unit}")
        self.unit = unit
        self.near = near


_PREFIXES = {"n": 1e-9, "µ": 1e-6, "u": 1e-6, "m": 1e-3, "": 1.0, "k": 1e3, "M": 1e6}

_PREFIXED: tuple[tuple[str, float, Dims, str], ...] = (
    # name, SI factor, dims, prefixes allowed
    ("V", 1.0, VOLTAGE, "µumk"),
    ("A", 1.0, CURRENT, "nµumk"),
    ("W", 1.0, POWER, "µumkM"),
    ("Wh", 3600.0, ENERGY, "mkM"),
    ("Ah", 3600.0, CHARGE, "mk"),
    ("ohm", 1.0, RESISTANCE, "µumkM"),
    ("Ω", 1.0, RESISTANCE, "µumkM"),
    ("J", 1.0, ENERGY, "mkM"),
    ("C", 1.0, CHARGE, "mk"),
    ("F", 1.0, CAPACITANCE, "µumk"),
    ("s", 1.0, TIME, "µum"),
    ("K", 1.0, WARMTH, "m"),
)

_SINGLE: dict[str, Unit] = {
    "%": Unit(0.01, PLAIN),
    "percent": Unit(0.01, PLAIN),
    "‰": Unit(0.001, PLAIN),
    "As": Unit(1.0, CHARGE),
    "Ws": Unit(1.0, ENERGY),
    "VA": Unit(1.0, POWER),
    "min": Unit(60.0, TIME),
    "h": Unit(3600.0, TIME),
    "hour": Unit(3600.0, TIME),
    "hours": Unit(3600.0, TIME),
    "d": Unit(86400.0, TIME),
    "day": Unit(86400.0, TIME),
    "days": Unit(86400.0, TIME),
    "week": Unit(604800.0, TIME),
    "weeks": Unit(604800.0, TIME),
    "mm": Unit(1e-3, LENGTH),
    "cm": Unit(1e-2, LENGTH),
    "m": Unit(1.0, LENGTH),
    "km": Unit(1e3, LENGTH),
    "in": Unit(INCH, LENGTH),
    "inch": Unit(INCH, LENGTH),
    "inches": Unit(INCH, LENGTH),
    "ft": Unit(12.0 * INCH, LENGTH),
    "foot": Unit(12.0 * INCH, LENGTH),
    "feet": Unit(12.0 * INCH, LENGTH),
    "mg": Unit(1e-6, MASS),
    "g": Unit(1e-3, MASS),
    "kg": Unit(1.0, MASS),
    "t": Unit(1000.0, MASS),
    "lb": Unit(POUND, MASS),
    "lbs": Unit(POUND, MASS),
    "oz": Unit(POUND / 16.0, MASS),
    "kn": Unit(1852.0 / 3600.0, SPEED),
    "mph": Unit(5280.0 * 12.0 * INCH / 3600.0, SPEED),
    "L": Unit(1e-3, VOLUME),
    "l": Unit(1e-3, VOLUME),
    "gal": Unit(231.0 * INCH**3, VOLUME),
    "qt": Unit(231.0 / 4.0 * INCH**3, VOLUME),
    "deg": Unit(1.0, ANGLE),
    "°": Unit(1.0, ANGLE),
    "rad": Unit(180.0 / math.pi, ANGLE),
    "degC": Unit(1.0, WARMTH, ZERO_CELSIUS_K, True),
    "°C": Unit(1.0, WARMTH, ZERO_CELSIUS_K, True),
    "degF": Unit(5.0 / 9.0, WARMTH, ZERO_CELSIUS_K - 32.0 * 5.0 / 9.0, True),
    "°F": Unit(5.0 / 9.0, WARMTH, ZERO_CELSIUS_K - 32.0 * 5.0 / 9.0, True),
    "AWG": Unit(1.0, GAUGE),
    "awg": Unit(1.0, GAUGE),
}


def _table() -> dict[str, Unit]:
    found = dict(_SINGLE)
    for name, factor, dims, prefixes in _PREFIXED:
        for prefix in ("", *prefixes):
            found[prefix + name] = Unit(_PREFIXES[prefix] * factor, dims)
    return found


UNITS = _table()
"""Every single unit by the way it is written."""

COMPOUNDS = (
    "mm2",
    "m2",
    "Wh/day",
    "Ah/day",
    "%/K",
    "mohm/m",
    "W/m2",
    "kWh/m2/day",
    "g/m",
    "kWh/day",
    "L/h",
    "L/kWh",
    "m/s",
    "km/h",
    "K/W",
    "J/K",
)
"""Compound units worth proposing when a word is not known."""

SYNONYMS = {
    **dict.fromkeys(("amp", "amps", "ampere", "amperes"), "A"),
    **dict.fromkeys(("milliamp", "milliamps"), "mA"),
    **dict.fromkeys(("volt", "volts"), "V"),
    **dict.fromkeys(("watt", "watts"), "W"),
    **dict.fromkeys(("milliohm", "milliohms"), "mohm"),
    **dict.fromkeys(("degree", "degrees"), "deg"),
    **dict.fromkeys(("hr", "hrs"), "h"),
    **dict.fromkeys(("mins", "minute", "minutes"), "min"),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("meter", "meters", "metre", "metres"), "m"),
    **dict.fromkeys(("pound", "pounds"), "lb"),
    **dict.fromkeys(("ounce", "ounces"), "oz"),
    **dict.fromkeys(("kilo", "kilos"), "kg"),
    **dict.fromkeys(("gram", "grams"), "g"),
    **dict.fromkeys(("gallon", "gallons"), "gal"),
    **dict.fromkeys(("quart", "quarts"), "qt"),
    **dict.fromkeys(("litre", "liter", "litres", "liters"), "L"),
    **dict.fromkeys(("ga", "gauge"), "AWG"),
    **dict.fromkeys(("knot", "knots", "kt", "kts"), "kn"),
    **dict.fromkeys(("kmh", "kph"), "km/h"),
    "ohms": "ohm",
    **dict.fromkeys(("farad", "farads"), "F"),
    "celsius": "degC",
    "fahrenheit": "degF",
    "f": "degF",
    "kelvin": "K",
    **dict.fromkeys(("sqmm", "kcmil", "mcm"), "mm2"),
}
"""Words that people write for a unit, for the hint only: there is one way to write each."""

_SPELLINGS = str.maketrans(
    {"\u03bc": "\u00b5", "\u2126": "\u03a9", "²": "2", "³": "3", "·": "*", "\u2044": "/"}
)
"""Signs that look alike to people, brought to the one that the table has."""

_FACTOR = re.compile(r"(?P<name>[^\d^*]+)(?:\^?(?P<power>[1-4]))?$")


def read_unit(text: str) -> Unit:
    """The unit that a text such as `mohm`, `Wh/day`, `mm²` or `%/K` stands for.

    Raises
    ------
    UnitProblem
        If a word in it is not in the table.

    Examples
    --------
    >>> read_unit("Wh/day").factor * 24.0
    1.0
    """
    plain = text.strip().translate(_SPELLINGS)
    if plain in UNITS:
        return UNITS[plain]
    over, *under = plain.split("/")
    factor, dims = 1.0, PLAIN
    for part, sign in [(over, 1), *((each, -1) for each in under)]:
        for word in part.split("*"):
            found, power = _factor(word, text)
            factor *= found.factor ** (sign * power)
            dims = combined(dims, found.dims, sign * power)
    return Unit(factor, dims)


def combined(left: Dims, right: Dims, power: int = 1) -> Dims:
    """Dimensions of `left * right**power`."""
    a, b = left, right
    return (
        a[0] + power * b[0],
        a[1] + power * b[1],
        a[2] + power * b[2],
        a[3] + power * b[3],
        a[4] + power * b[4],
        a[5] + power * b[5],
        a[6] + power * b[6],
    )


def _factor(word: str, whole: str) -> tuple[Unit, int]:
    """A single unit with its power; temperatures with an own zero cannot be combined."""
    match = _FACTOR.match(word)
    if match is None:
        raise UnitProblem(whole, near_units(whole))
    unit = UNITS.get(match["name"])
    if unit is None:
        raise UnitProblem(whole, near_units(whole))
    if unit.absolute:
        kelvin = whole.replace(match["name"], "K").replace("°C", "K")
        raise UnitProblem(whole, (kelvin,))
    return unit, int(match["power"] or 1)


def near_units(word: str) -> tuple[str, ...]:
    """Known units that a word may have been meant as: first those that differ by case only."""
    if word.lower() in SYNONYMS:
        return (SYNONYMS[word.lower()],)
    known = [*UNITS, *COMPOUNDS]
    same = tuple(unit for unit in known if unit.lower() == word.lower())
    if same:
        return same[:3]
    ascii_only = [unit for unit in known if unit.isascii()]
    near = get_close_matches(word, ascii_only, n=2, cutoff=0.6)
    if near:
        return tuple(near)
    lowered = {unit.lower(): unit for unit in ascii_only}
    return tuple(lowered[each] for each in get_close_matches(word.lower(), lowered, n=1))
