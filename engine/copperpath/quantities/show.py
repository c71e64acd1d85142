"""SI values to text: with a sensible unit for reading, or as one would write it in a file."""

from __future__ import annotations

import math

from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities.dimensions import MEANINGS
from copperpath.quantities.units import read_unit

_LADDERS: dict[Dimension, tuple[str, ...]] = {
    "voltage": ("mV", "V", "kV"),
    "current": ("µA", "mA", "A", "kA"),
    "power": ("mW", "W", "kW", "MW"),
    "resistance": ("µohm", "mohm", "ohm", "kohm", "Mohm"),
    "charge": ("mAh", "Ah"),
    "capacitance": ("µF", "mF", "F"),
    "energy": ("mWh", "Wh", "kWh", "MWh"),
    "length": ("mm", "m", "km"),
    "mass": ("g", "kg"),
    "time": ("s", "min", "h", "days"),
}
"""Units of a dimension, small to large; the largest that leaves a number of at least 1 is taken."""

_START_OF_DAYS_S = 5.0 * 86400.0
"""Up to here times are in hours: "72 h" says more to an operator than "3 days"."""

_PRETTY = (("ohm", "Ω"), ("degC", "°C"), ("degF", "°F"), ("mm2", "mm²"), ("deg", "°"))


def show(value: float, dimension: Dimension, unit: str = "") -> str:
    """A value for reading, three significant digits: "12.6 V", "35 mΩ", "−0.30 %/K".

    Parameters
    ----------
    value : float
        In SI (degrees for an angle, a share for percent).
    dimension : str
        What it measures.
    unit : str
        The unit to show it in; "" picks one by size.
    """
    text = written(value, dimension, unit)
    for plain, pretty in _PRETTY:
        if text.endswith(plain):
            text = text.removesuffix(plain) + pretty
    return text.replace("-", "−", 1) if text.startswith("-") else text


def written(value: float, dimension: Dimension, unit: str = "") -> str:
    """The same as one would write it in a station file: "35 mohm", "-0.30 %/K"."""
    if math.isnan(value):
        return "not given"
    unit = unit or _unit_by_size(value, dimension)
    if not unit:
        return three_digits(value)
    found = read_unit(unit)
    number = (value - found.zero) / found.factor
    digits = f"{number:.2f}" if unit == "%/K" and abs(number) < 10.0 else three_digits(number)
    return f"{digits} {unit}"


def three_digits(number: float) -> str:
    """Three significant digits, never with an exponent below a million: "12.6", "0.005"."""
    if not math.isfinite(number):
        return str(number)
    rounded = float(f"{number:.3g}")
    if rounded == 0.0:
        return "0"
    if 1e-4 <= abs(rounded) < 1e6:
        places = max(0, 2 - math.floor(math.log10(abs(rounded))))
        text = f"{rounded:.{places}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return f"{rounded:.3g}"


def _unit_by_size(value: float, dimension: Dimension) -> str:
    ladder = _LADDERS.get(dimension)
    if ladder is None or value == 0.0 or not math.isfinite(value):
        return MEANINGS[dimension].unit
    best = ladder[0]
    for unit in ladder[1:]:
        # Rounding first, so that 999.6 mA is 1 A and not 1000 mA.
        if unit == "days" and abs(value) <= _START_OF_DAYS_S:
            break
        if abs(float(f"{value / read_unit(unit).factor:.3g}")) >= 1.0:
            best = unit
    return best
