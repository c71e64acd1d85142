"""One value of an entry: read, its dimension checked, its bounds kept."""

from __future__ import annotations

import re

from copperpath.build.arithmetic import evaluate
from copperpath.build.scope import Scope
from copperpath.build.value_errors import (
    NotBelievable,
    NotWhole,
    OneValueWanted,
    OutOfBounds,
    WrongDimension,
)
from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities import MEANINGS, Quantity, believable, fits, written
from copperpath.quantities.units import ANGLE, CHARGE, CURRENT, ENERGY, PLAIN, POWER, WARMTH
from copperpath_grammar.value_nodes import Entry, Expression, Range, Reference


def only_value(entry: Entry) -> Expression | None:
    """The value of an entry that has exactly one, and no joining word before it."""
    alone = len(entry.parts) == 1 and not entry.parts[0].joiner
    return entry.parts[0].value if alone else None


def read_quantity(
    value: Expression,
    dimension: Dimension,
    name: str,
    scope: Scope,
    example: str = "",
    *,
    any_size: bool = False,
) -> float | None:
    """A value in SI that has the dimension and is believable, or None after a report.

    Parameters
    ----------
    value : node
        The expression as written.
    dimension : str
        What is wanted.
    name : str
        The entry's name, for the message.
    example : str
        A typeable value for the message; "" takes the dimension's own.
    any_size : bool
        True if the caller looks at the bounds itself.
    """
    meaning = MEANINGS[dimension]
    example = example or meaning.example
    if isinstance(value, Range):
        scope.report(OneValueWanted(value.span, name, example))
        return None
    found = evaluate(value, scope)
    if found is None:
        return None
    given = _given(value)
    if not fits(found, dimension):
        advice = dimension_advice(found, dimension, name, given, example)
        scope.report(
            WrongDimension(value.span, name, meaning.noun, example, given, found.noun, advice)
        )
        return None
    if not any_size and not believable(found, dimension):
        far = meaning.high if found.value > meaning.high else meaning.low
        limit = written(far, dimension)
        scope.report(NotBelievable(value.span, name, given, limit))
        return None
    return found.value


def read_bounded(
    value: Expression,
    dimension: Dimension,
    name: str,
    scope: Scope,
    *,
    low: float | None = None,
    high: float | None = None,
    low_allowed: bool = True,
    reason: str = "",
    example: str = "",
    unit: str = "",
    whole: bool = False,
) -> float | None:
    """As `read_quantity`, within bounds given in SI."""
    bounded = low is not None and high is not None
    found = read_quantity(value, dimension, name, scope, example, any_size=bounded)
    if found is None:
        return None
    too_low = low is not None and (found < low or (found == low and not low_allowed))
    too_high = high is not None and found > high
    if too_low or too_high:
        given = shown_as_given(value, found, dimension, unit)
        bound = bounds_in_words(low, high, dimension, unit, low_allowed=low_allowed)
        if dimension == "share" and high is not None and found > high and "%" not in given:
            reason = f"{reason}; for percent write the sign: `{name} {given} %`".lstrip("; ")
        far = high is not None and abs(found) > 100.0 * high
        if far and dimension not in ("share", "number"):
            reason = f"{reason}; look at the unit and its first letter"
        scope.report(OutOfBounds(value.span, name, given, bound, reason))
        return None
    if whole and found != round(found):
        scope.report(NotWhole(value.span, name, value.span.text, example))
        return None
    return found


def shown_as_given(value: Expression, found: float, dimension: Dimension, unit: str) -> str:
    """The value as the text has it; a named or reckoned one with its result in SI beside it."""
    text = _given(value)
    if text[:1].isdigit() or text[:1] in "-−":
        return text
    return f"{text} ({written(found, dimension, unit)})"


def _given(value: Expression) -> str:
    """The value as the text has it; that of a kit with the kit's name, `table[1].rating`: the
    mistake may be there."""
    kit = isinstance(value, Reference) and value.meant
    return kit or value.span.text


def bounds_in_words(
    low: float | None,
    high: float | None,
    dimension: Dimension,
    unit: str,
    *,
    low_allowed: bool = True,
) -> str:
    """ "between 0.3 V and 500 V", "more than 0 A"."""
    if low is not None and high is not None and low_allowed:
        return f"between {_handy(low, dimension, unit)} and {_handy(high, dimension, unit)}"
    words = []
    if low is not None:
        start = "at least" if low_allowed else "more than"
        words.append(f"{start} {_handy(low, dimension, unit)}")
    if high is not None:
        words.append(f"at most {_handy(high, dimension, unit)}")
    return " and ".join(words)


def _handy(value: float, dimension: Dimension, unit: str) -> str:
    """A bound in the unit of its declaration, unless the number gets unwieldy in it."""
    text = written(value, dimension, unit or MEANINGS[dimension].unit)
    number = abs(float(text.split()[0]))
    return text if number == 0.0 or 0.1 <= number <= 1000.0 else written(value, dimension)


def dimension_advice(
    found: Quantity, wanted: Dimension, name: str, given: str, example: str
) -> str:
    """What to write where one thing is often taken for another; "" if there is no such habit."""
    number = _number_of(given)
    if found.dims == WARMTH:
        return _warmth_advice(found, wanted, name, given)
    unit = example.partition(" ")[2] or MEANINGS[wanted].unit
    if found.dims == PLAIN and not found.percent and number and unit:
        return f"add the unit: `{name} {number} {unit}`"
    if found.dims == PLAIN and found.percent and wanted == "number" and number:
        return f"write it without the percent sign: `{name} {number}`"
    if (found.dims, wanted) == (POWER, "current") and name in ("transmit", "key_up"):
        # 276 W for 100 W sent, 30 W for 10 W: the currents of the radios in the library.
        return (
            "watts on a radio are what it sends; it takes two to four times as much, and more "
            "where it is turned down. Write its current at that power, from the handbook or "
            "measured; `copperpath models radios` has typical ones"
        )
    habits = {
        (CURRENT, "charge"): f"12 A is how fast, 12 Ah is how much: write `{name} {number} Ah`",
        (CHARGE, "current"): f"12 Ah is how much, 12 A is how fast: write `{name} {number} A`",
        (ENERGY, "charge"): (
            "watt-hours divided by the battery's nominal voltage are ampere-hours: "
            f"`{name} {given} / 12.8 V`"
        ),
        (ENERGY, "power"): f"for an energy a day write `{name} {number} Wh/day`",
        (CHARGE, "power"): f"multiply by the voltage and say in which time: `{name} 12 Wh/day`",
        (CURRENT, "power"): f"multiply by the voltage: `{name} {given} * 12.8 V`",
        (POWER, "current"): f"divide by the supply voltage: `{name} {given} / 13.2 V`",
        (POWER, "charge"): (
            "watts are how fast; a battery's size is in ampere-hours, or watt-hours divided by "
            f"its nominal voltage: `{name} 154 Wh / 12.8 V`"
        ),
        (CHARGE, "energy"): f"multiply by the nominal voltage: `{name} {given} * 12.8 V`",
        (ANGLE, "temperature"): f"write `{name} {number} degC` for a temperature",
        (CHARGE, "temperature"): f"C is a charge; write `{name} {number} degC`",
    }
    return habits.get((found.dims, wanted), "") if number else ""


def _number_of(given: str) -> str:
    """The number that a plain measure begins with; "" for anything else."""
    match = re.fullmatch(r"([-−]?[0-9][0-9.]*(?:[eE][-+]?[0-9]+)?)\s*[^\s+*/()]*", given)
    return match[1] if match else ""


def _warmth_advice(found: Quantity, wanted: Dimension, name: str, given: str) -> str:
    if wanted == "temperature" and not found.absolute:
        if found.value >= 150.0:
            celsius = f"{found.value - 273.15:.4g}"
            return f"temperatures of things are written in degC or degF: `{name} {celsius} degC`"
        return (
            "K is for differences; write degC or degF for how warm a thing is: "
            f"`{name} {found.value:.4g} degC`"
        )
    if wanted == "temperature_difference" and found.absolute:
        number = _number_of(given) or "6"
        if given.endswith(("degF", "°F")) and _number_of(given):
            number = f"{float(number.replace('−', '-')) / 1.8:.3g}"
            return (
                "degF says how warm a thing is; write a difference in K, which is 1.8 of its "
                f"degrees: `{name} {number} K`"
            )
        return f"degC says how warm a thing is; write a difference in K: `{name} {number} K`"
    if wanted == "share_per_kelvin":
        return f"write it as percent for each kelvin: `{name} -0.30 %/K`"
    return ""
