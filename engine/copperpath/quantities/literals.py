"""Written numbers to SI values: `12 Ah`, `-0.30 %/K`, `AWG 14`, `5 degC`.

Not here: bounds and the words of a parameter's own error; see `copperpath.build.parameters`.
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities.dimensions import MEANINGS, noun_of
from copperpath.quantities.units import PLAIN, Dims, read_unit


@dataclass(frozen=True, slots=True)
class Quantity:
    """An SI value with its dimensions.

    `absolute` marks a point on a temperature scale (written degC or degF); `percent` a plain
    number that was written with a percent sign.
    """

    value: float
    dims: Dims = PLAIN
    absolute: bool = False
    percent: bool = False

    @property
    def noun(self) -> str:
        """What it is, with the article: "a current"."""
        return noun_of(self.dims, absolute=self.absolute, percent=self.percent)


def read_measure(value: float, unit: str) -> Quantity:
    """A number with its unit as written, in SI.

    Raises
    ------
    UnitProblem
        If the unit is not known.

    Examples
    --------
    >>> read_measure(12.0, "Ah").value
    43200.0
    """
    found = read_unit(unit)
    percent = found.dims == PLAIN
    # Dividing keeps short numbers short: 94 % is 0.94, not 0.9400000000000001.
    parts = 1.0 / found.factor
    exact = found.factor < 1.0 and parts == round(parts)
    scaled = value / parts if exact else value * found.factor
    return Quantity(scaled + found.zero, found.dims, found.absolute, percent)


def fits(quantity: Quantity, dimension: Dimension) -> bool:
    """True if the quantity is one of that dimension.

    A share may be written with a percent sign or as a plain number; a plain number may not
    carry a percent sign. A temperature must be a point on a scale, a difference must not.
    """
    meaning = MEANINGS[dimension]
    if quantity.dims != meaning.dims or quantity.absolute != meaning.absolute:
        return False
    return not (dimension == "number" and quantity.percent)


def believable(quantity: Quantity, dimension: Dimension) -> bool:
    """True if the value lies where any radio station's does."""
    meaning = MEANINGS[dimension]
    return meaning.low <= quantity.value <= meaning.high
