"""Entries of a device to values: each declaration of its model read, checked, or defaulted."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from copperpath.build.build_errors import WrongForm
from copperpath.build.hours import read_hours, read_share_by_hour
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value, read_bounded, read_quantity
from copperpath.build.value_errors import LowAboveHigh, UnknownWord
from copperpath.plugin_api import (
    Ambient,
    AmbientRule,
    AnyParameter,
    Choice,
    Hours,
    Mount,
    Mounting,
    Parameter,
    Schedule,
    ShareByHour,
    Window,
)
from copperpath.quantities import MEANINGS, show
from copperpath_grammar.value_nodes import Arithmetic, Entry, Expression, Range, Reference

FACINGS = {
    "north": 0.0,
    "north_east": 45.0,
    "east": 90.0,
    "south_east": 135.0,
    "south": 180.0,
    "south_west": 225.0,
    "west": 270.0,
    "north_west": 315.0,
}
"""Degrees clockwise from true north."""

FLAT = Mount(0.0, 180.0)


@dataclass(frozen=True, slots=True)
class Default:
    """What holds where the file says nothing; `shown` and `basis` are "" if nothing was taken."""

    values: Mapping[str, Any]
    shown: str = ""
    basis: str = ""


def entry_names(parameter: AnyParameter) -> tuple[str, ...]:
    """The words with which an entry for this parameter may begin."""
    if isinstance(parameter, Hours) and parameter.inverse:
        return (parameter.name, parameter.inverse)
    return (parameter.name,)


def is_required(parameter: AnyParameter) -> bool:
    """True if the file must give it."""
    return not isinstance(parameter, Hours | Ambient) and parameter.required


def example_of(parameter: AnyParameter) -> str:
    """A typeable line for it."""
    match parameter:
        case Parameter():
            return f"{parameter.name} {parameter.example or MEANINGS[parameter.dimension].example}"
        case Window():
            unit = MEANINGS[parameter.dimension].unit
            return f"{parameter.name} {parameter.example or f'9 {unit} .. 15 {unit}'}"
        case Choice():
            return f"{parameter.name} {parameter.words[0]}"
        case Hours():
            return f"{parameter.name} 06:00 to 23:00"
        case ShareByHour():
            return f"{parameter.name} {parameter.example or '15 %'}"
        case Mounting():
            return f"{parameter.name} 60 deg, south"
        case Ambient():
            return f"{parameter.name} 5 degC"


def read_parameter(parameter: AnyParameter, entry: Entry, scope: Scope) -> dict[str, Any] | None:
    """The values that an entry gives, by the names the law sees; None after a report."""
    match parameter:
        case Parameter():
            value: Any = _single(parameter, entry, scope)
        case Window():
            return _window(parameter, entry, scope)
        case Choice():
            value = _choice(parameter, entry, scope)
        case Hours():
            inside = 0.0 if entry.name.text == parameter.inverse else 1.0
            value = read_hours(entry, inside=inside, scope=scope)
        case ShareByHour():
            value = read_share_by_hour(entry, parameter.example, scope)
        case Mounting():
            value = read_mounting(entry, scope)
        case Ambient():
            value = _ambient(entry, scope)
    return None if value is None else {parameter.name: value}


def default_of(parameter: AnyParameter) -> Default:
    """What holds where the file says nothing on a parameter that need not be given."""
    name = parameter.name
    match parameter:
        case Parameter():
            if parameter.default is None:
                shown = "worked out by the model" if parameter.basis else ""
                return Default({name: math.nan}, shown, parameter.basis)
            shown = show(parameter.default, parameter.dimension, parameter.shown_unit)
            return Default({name: parameter.default}, shown, parameter.basis)
        case Window():
            if parameter.default is None:
                return Default({f"{name}_low": math.nan, f"{name}_high": math.nan})
            ends = [show(v, parameter.dimension, parameter.shown_unit) for v in parameter.default]
            low, high = parameter.default
            values = {f"{name}_low": low, f"{name}_high": high}
            return Default(values, " .. ".join(ends), parameter.basis)
        case Choice():
            return Default({name: parameter.default}, parameter.default or "", parameter.basis)
        case Hours():
            return Default({name: Schedule((), 1.0)}, "always", "no hours are given")
        case ShareByHour():
            if parameter.default is None:
                return Default({name: Schedule((), 0.0)}, "0 %", "nothing is given")
            shown = show(parameter.default, "share", "%")
            return Default({name: Schedule((), parameter.default)}, shown, parameter.basis)
        case Mounting():
            return Default({name: FLAT}, "flat", "nothing is given")
        case Ambient():
            return Default({name: AmbientRule()}, "that of the air", "nothing is given")


# ---- one kind of declaration each -----------------------------------------------------------


def _single(parameter: Parameter, entry: Entry, scope: Scope) -> float | None:
    value = only_value(entry)
    if value is None:
        meaning = MEANINGS[parameter.dimension]
        takes = f"one value, {meaning.noun}: {parameter.help}"
        scope.report(WrongForm(entry.span, parameter.name, takes, example_of(parameter)))
        return None
    return read_bounded(
        value,
        parameter.dimension,
        parameter.name,
        scope,
        low=parameter.low,
        high=parameter.high,
        low_allowed=parameter.low_allowed,
        reason=parameter.bound_reason,
        example=parameter.example,
        unit=parameter.shown_unit,
        whole=parameter.whole,
    )


def _window(parameter: Window, entry: Entry, scope: Scope) -> dict[str, Any] | None:
    value = only_value(entry)
    name = parameter.name
    if not isinstance(value, Range):
        takes = f"a low and a high limit with `..` between them: {parameter.help}"
        scope.report(WrongForm(entry.span, name, takes, example_of(parameter)))
        return None
    example = parameter.example.split("..")[0].strip()
    low, high = (
        read_bounded(
            end,
            parameter.dimension,
            name,
            scope,
            low=parameter.low,
            high=parameter.high,
            reason=parameter.bound_reason,
            example=example,
            unit=parameter.shown_unit,
        )
        for end in (value.low, value.high)
    )
    if low is None or high is None:
        return None
    if low > high:
        scope.report(LowAboveHigh(value.span, name, value.low.span.text, value.high.span.text))
        return None
    return {f"{name}_low": low, f"{name}_high": high}


def _choice(parameter: Choice, entry: Entry, scope: Scope) -> str | None:
    value = only_value(entry)
    if not isinstance(value, Reference):
        takes = f"one word: {parameter.help}"
        scope.report(WrongForm(entry.span, parameter.name, takes, example_of(parameter)))
        return None
    if value.text in parameter.words:
        return value.text
    near = scope.near(value.text, parameter.words)
    scope.report(UnknownWord(value.span, parameter.name, value.text, near, parameter.words))
    return None


def read_mounting(entry: Entry, scope: Scope) -> Mount | None:
    """How a panel stands; None after a report."""
    name = entry.name.text
    if len(entry.parts) == 1 and isinstance(entry.parts[0].value, Reference):
        word = entry.parts[0].value
        if word.text == "flat":
            return FLAT
    if entry.parts and isinstance(entry.parts[0].value, Reference):
        word = entry.parts[0].value
        if word.text == "aimed":
            return _aimed(entry, scope)
    if len(entry.parts) != 2 or entry.parts[1].joiner != ",":
        takes = "`flat`, or a tilt from level and the direction faced, with a comma between"
        scope.report(WrongForm(entry.span, name, takes, f"{name} 60 deg, south"))
        return None
    tilt = read_bounded(
        entry.parts[0].value,
        "angle",
        name,
        scope,
        low=0.0,
        high=90.0,
        reason="a panel stands between level (0 deg) and upright (90 deg)",
        example="60 deg",
    )
    facing = read_facing(entry.parts[1].value, name, scope)
    return None if tilt is None or facing is None else Mount(tilt, facing)


def _aimed(entry: Entry, scope: Scope) -> Mount | None:
    name = entry.name.text
    if [part.joiner for part in entry.parts] != ["", "every"]:
        takes = "`aimed every` with the time from one aim at the sun to the next"
        scope.report(WrongForm(entry.span, name, takes, f"{name} aimed every 3 h"))
        return None
    every = read_bounded(
        entry.parts[1].value,
        "time",
        f"{name} aimed every",
        scope,
        low=60.0,
        high=86_400.0,
        reason="people aim a panel anew between once a minute and once a day",
        example="3 h",
        unit="h",
    )
    return None if every is None else Mount(0.0, 180.0, every)


def read_facing(value: Expression, name: str, scope: Scope) -> float | None:
    """A direction, clockwise from true north [degrees]; None after a report."""
    if isinstance(value, Reference) and value.value_name not in scope.values:
        if value.text in FACINGS:
            return FACINGS[value.text]
        words = tuple(FACINGS)
        near = scope.near(value.text, words)
        scope.report(UnknownWord(value.span, name, value.text, near, words))
        return None
    return read_bounded(
        value,
        "angle",
        name,
        scope,
        low=0.0,
        high=360.0,
        reason="directions are counted clockwise from true north: 90 deg is east",
        example="180 deg",
    )


def _ambient(entry: Entry, scope: Scope) -> AmbientRule | None:
    name, value = entry.name.text, only_value(entry)
    if value is None:
        takes = "a fixed temperature, `air`, or the air's with a difference"
        scope.report(WrongForm(entry.span, name, takes, f"{name} air + 6 K"))
        return None
    if _is_air(value):
        return AmbientRule()
    if isinstance(value, Arithmetic) and _is_air(value.left) and value.operator in "+-":
        words = f"air {value.operator}"
        offset = read_quantity(value.right, "temperature_difference", words, scope, "6 K")
        if offset is None:
            return None
        return AmbientRule(offset_k=offset if value.operator == "+" else -offset)
    fixed = read_quantity(value, "temperature", name, scope, "5 degC")
    return None if fixed is None else AmbientRule(fixed_k=fixed)


def _is_air(value: Expression) -> bool:
    return isinstance(value, Reference) and value.text == "air"
