"""Values drawn at random for one declaration, as the words of a station file.

A draw is text, so that it goes the way of any station file, and so that an author can paste the
device of a breach into one.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np

from copperpath.build.parameters import FACINGS, example_of, read_parameter
from copperpath.build.scope import Scope
from copperpath.plugin_api import (
    Ambient,
    AnyParameter,
    Choice,
    Hours,
    Mounting,
    Parameter,
    ShareByHour,
    Window,
)
from copperpath.quantities import MEANINGS, read_measure, read_unit
from copperpath_grammar import Diagnostic, parse
from copperpath_grammar.nodes import DeviceNode

AT_A_BOUND = 0.1
ANYWHERE = 0.1
"""Shares of the wide draws that stand at a bound, and anywhere between the two bounds."""
WIDE = 0.3
"""From this spread on a draw may leave the surroundings of the example."""


def read_entry(
    parameter: AnyParameter, text: str
) -> tuple[dict[str, Any] | None, tuple[Diagnostic, ...]]:
    """What a station file makes of one entry: values by name, or None, and its mistakes."""
    parsed = parse(f"load sample : sample {{ {text} }}\n")
    scope = Scope()
    if parsed.file is None or parsed.diagnostics:
        return None, parsed.diagnostics
    (node,) = parsed.file.statements
    assert isinstance(node, DeviceNode)
    (entry,) = node.body.entries
    values = read_parameter(parameter, entry, scope)
    return values, tuple(scope.problems)


def entry_text(parameter: AnyParameter, random: np.random.Generator, spread: float) -> str:
    """An entry with a value within `spread` (a logarithm) of the declared example or default."""
    name = parameter.name
    match parameter:
        case Parameter():
            return f"{name} {spelled(_number(parameter, random, spread), parameter)}"
        case Window():
            low, high = sorted(_near(parameter, base, random, spread) for base in _ends(parameter))
            return f"{name} {spelled(low, parameter)} .. {spelled(high, parameter)}"
        case Choice():
            return f"{name} {random.choice(parameter.words)}"
        case Hours():
            word = random.choice([name, parameter.inverse or name])
            return f"{word} {_from_to(random)}"
        case ShareByHour():
            return f"{name} {_share(parameter, random, spread)}"
        case Mounting():
            tilt, facing = random.integers(1, 90), random.choice(list(FACINGS))
            return f"{name} flat" if random.random() < 0.3 else f"{name} {tilt} deg, {facing}"
        case Ambient():
            ways = ("air", "air + 6 K", "air - 4 K", "-15 degC", "5 degC", "30 degC")
            return f"{name} {random.choice(ways)}"


def spelled(value: float, parameter: Parameter | Window) -> str:
    """An SI value in the unit in which the model shows it: twelve digits, or all where the last
    one decides whether a bound is kept."""
    unit = parameter.shown_unit or MEANINGS[parameter.dimension].unit
    if not unit:
        return f"{value:.12g}"
    found = read_unit(unit)
    number = (value - found.zero) / found.factor
    short = f"{number:.12g}"
    low, high = _bounds(parameter)
    kept = low <= value <= high
    if kept and not low <= read_measure(float(short), unit).value <= high:
        return f"{number!r} {unit}"
    return f"{short} {unit}"


# ---- single numbers -------------------------------------------------------------------------


@cache
def _base(parameter: Parameter) -> float:
    """Where draws gather: the default, the example, or what lies between the bounds."""
    if parameter.default is not None:
        return parameter.default
    values, problems = read_entry(parameter, example_of(parameter))
    if values is not None and not problems:
        return float(values[parameter.name])
    return _inside(parameter)


@cache
def _ends(parameter: Window) -> tuple[float, float]:
    if parameter.default is not None:
        return parameter.default
    values, problems = read_entry(parameter, example_of(parameter))
    if values is not None and not problems:
        return float(values[f"{parameter.name}_low"]), float(values[f"{parameter.name}_high"])
    middle = _inside(parameter)
    return middle, middle


def _inside(parameter: Parameter | Window) -> float:
    low, high = _bounds(parameter)
    if low > 0.0:
        return math.sqrt(low * high)
    return min(high, 1.0) if high > 0.0 else high


def _bounds(parameter: Parameter | Window) -> tuple[float, float]:
    """The declared bounds, or what is believable in a station."""
    meaning = MEANINGS[parameter.dimension]
    low = meaning.low if parameter.low is None else max(parameter.low, meaning.low)
    high = meaning.high if parameter.high is None else min(parameter.high, meaning.high)
    return low, high


def _number(parameter: Parameter, random: np.random.Generator, spread: float) -> float:
    low, high = _bounds(parameter)
    chance = random.random() if spread >= WIDE else 1.0
    bounded = parameter.low is not None and parameter.high is not None
    if chance < AT_A_BOUND:
        ends = [parameter.low if parameter.low_allowed else None, parameter.high]
        known = [end for end in ends if end is not None and low <= end <= high]
        if known:
            return float(random.choice(known))
    elif chance < AT_A_BOUND + ANYWHERE and bounded:
        value = float(random.uniform(low, high))
        return _rounded(value, parameter)
    return _near(parameter, _base(parameter), random, spread)


def _near(
    parameter: Parameter | Window, base: float, random: np.random.Generator, spread: float
) -> float:
    """A value around `base`, within the bounds, of six digits."""
    low, high = _bounds(parameter)
    if parameter.dimension == "temperature":
        value = base + 40.0 * spread * random.uniform(-1.0, 1.0)
    elif base == 0.0:
        value = min(high, 1.0) * spread * random.random()
    else:
        value = base * math.exp(spread * random.uniform(-1.0, 1.0))
    shut = isinstance(parameter, Parameter) and not parameter.low_allowed
    if shut and value <= low:
        value = base
    return _rounded(min(max(value, low), high), parameter)


def _rounded(value: float, parameter: Parameter | Window) -> float:
    if isinstance(parameter, Parameter) and parameter.whole:
        return float(round(value))
    low, high = _bounds(parameter)
    return min(max(float(f"{value:.6g}"), low), high)


def _share(parameter: ShareByHour, random: np.random.Generator, spread: float) -> str:
    values, problems = read_entry(parameter, example_of(parameter))
    base = 0.15 if values is None or problems else values[parameter.name].otherwise or 0.15
    shares = [min(100.0, 100.0 * base * math.exp(spread * random.uniform(-1, 1))) for _ in "ab"]
    if random.random() < 0.5:
        return f"{shares[0]:.4g} %"
    return f"{shares[0]:.4g} % from {_from_to(random)}, otherwise {shares[1]:.4g} %"


def _from_to(random: np.random.Generator) -> str:
    """Two times of day that differ, to five minutes."""
    start, end = (5 * each for each in random.choice(288, 2, replace=False))
    return f"{start // 60:02d}:{start % 60:02d} to {end // 60:02d}:{end % 60:02d}"
