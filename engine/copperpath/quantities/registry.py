"""The one registry of the general units library, made when first asked for.

Results handed to people as quantities come from here, and tests hold our own table (`units`)
against it. Reading a file does not need it: starting it takes a third of a second.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_NAMES = {
    "Ω": "ohm",
    "°C": "degC",
    "°F": "degF",
    "°": "degree",
    "deg": "degree",
    "As": "A*s",
    "Ws": "W*s",
    "VA": "V*A",
    "Wh": "W*hour",
    "Ah": "A*hour",
    "t": "tonne",
    "kn": "knot",
    "mph": "mile_per_hour",
    "gal": "US_liquid_gallon",
    "qt": "US_liquid_quart",
    "lbs": "pound",
    "‰": "permille",
    "": "dimensionless",
}
_PREFIXES = {"m": "milli", "µ": "micro", "u": "micro", "k": "kilo", "M": "mega", "n": "nano"}


@cache
def registry() -> pint.UnitRegistry[float]:
    """The registry; the same object every time."""
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def library_name(unit: str) -> str:
    """One of our single units in the words of the library: `mΩ` is `milliohm`."""
    if unit in _NAMES:
        return _NAMES[unit]
    start, rest = unit[:1], unit[1:]
    if rest in ("Ω", "ohm", "Wh", "Ah") and start in _PREFIXES:
        inner = {"Wh": "watt*hour", "Ah": "ampere*hour"}.get(rest, "ohm")
        return _PREFIXES[start] + inner
    return unit
