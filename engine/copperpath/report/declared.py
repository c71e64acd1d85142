"""What a model declares, in words: the rows behind `copperpath models` and the reference pages.

Nothing is written twice: names, units, defaults, bounds and help come from the declarations.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from copperpath.plugin_api import (
    Ambient,
    AnyParameter,
    Choice,
    Hours,
    Model,
    Mounting,
    Parameter,
    ShareByHour,
    Terminal,
    Ways,
    Window,
)

SHOWN: dict[str, tuple[float, float]] = {
    "": (1.0, 0.0),
    "V": (1.0, 0.0),
    "A": (1.0, 0.0),
    "mA": (1e-3, 0.0),
    "W": (1.0, 0.0),
    "Wh/day": (3600.0 / 86400.0, 0.0),
    "ohm": (1.0, 0.0),
    "mohm": (1e-3, 0.0),
    "Ah": (3600.0, 0.0),
    "Wh": (3600.0, 0.0),
    "%": (0.01, 0.0),
    "%/K": (0.01, 0.0),
    "degC": (1.0, 273.15),
    "K": (1.0, 0.0),
    "s": (1.0, 0.0),
    "min": (60.0, 0.0),
    "h": (3600.0, 0.0),
    "m": (1.0, 0.0),
    "kg": (1.0, 0.0),
    "deg": (1.0, 0.0),
}
"""SI value = shown value * factor + zero, for the units that declarations may ask to be shown."""

UNITS = {
    "voltage": "V",
    "current": "A",
    "power": "W",
    "resistance": "ohm",
    "charge": "Ah",
    "energy": "Wh",
    "temperature": "degC",
    "temperature_difference": "K",
    "length": "m",
    "mass": "kg",
    "time": "s",
    "angle": "deg",
    "share": "%",
    "share_per_kelvin": "%/K",
    "number": "",
}
"""The unit shown for a dimension where the declaration names none."""


@dataclass(frozen=True, slots=True)
class ParameterWords:
    """One parameter as people read it; every field is text and may be empty."""

    name: str
    unit: str
    example: str
    default: str
    bounds: str
    help: str
    basis: str
    required: bool


COMMON = (
    ParameterWords("mass", "kg", "mass 1.1 kg", "", "at least 0 kg", "what it weighs", "", False),
    ParameterWords(
        "priority", "", "priority 1", "", "", "order of loads; 1 is shed last", "", False
    ),
    ParameterWords("note", "text", 'note "on loan"', "", "", "a remark for people", "", False),
)
"""Entries that every device takes."""


def parameter_words(parameter: AnyParameter) -> ParameterWords:
    """One declaration in words."""
    match parameter:
        case Parameter():
            return _single(parameter)
        case Window():
            return _window(parameter)
        case Choice():
            return ParameterWords(
                parameter.name,
                "word",
                f"{parameter.name} {parameter.words[0]}",
                parameter.default or "",
                "one of " + ", ".join(parameter.words),
                parameter.help,
                parameter.basis,
                parameter.required,
            )
        case Hours():
            other = f", or `{parameter.inverse} 23:00 to 06:00`" if parameter.inverse else ""
            return ParameterWords(
                parameter.name,
                "hours",
                f"{parameter.name} 06:00 to 23:00{other}",
                "always",
                "",
                parameter.help,
                "",
                False,
            )
        case ShareByHour():
            return ParameterWords(
                parameter.name,
                "%",
                f"{parameter.name} {parameter.example or '15 %'}",
                "" if parameter.default is None else f"{100.0 * parameter.default:g} %",
                "0 % to 100 %, may change with the hour",
                parameter.help,
                parameter.basis,
                parameter.required,
            )
        case Mounting():
            return ParameterWords(
                parameter.name,
                "place",
                f"{parameter.name} flat, or {parameter.name} 60 deg, south",
                "",
                "",
                parameter.help,
                "",
                parameter.required,
            )
        case Ambient():
            return ParameterWords(
                parameter.name,
                "degC",
                f"{parameter.name} 5 degC, or {parameter.name} air + 6 K",
                "follows the air",
                "",
                parameter.help,
                "",
                False,
            )


def terminal_words(model: type[Model]) -> list[tuple[str, str]]:
    """Name and meaning of each terminal."""
    rows = []
    for terminal in model.terminals:
        match terminal:
            case Terminal():
                marks = [
                    word
                    for held, word in (
                        (terminal.main, "the one meant by the device's name alone"),
                        (terminal.seeking, "seeks the most power"),
                        (terminal.gives, "gives power"),
                    )
                    if held
                ]
                extra = f" ({'; '.join(marks)})" if marks else ""
                rows.append((terminal.name, terminal.help + extra))
            case Ways():
                rows.append((f"1 .. {terminal.count}", terminal.help))
    return rows


def example_text(model: type[Model]) -> str:
    """A declaration with every required parameter, ready to be copied."""
    entries = []
    for parameter in model.parameters:
        words = parameter_words(parameter)
        if words.required:
            entries.append(words.example.split(", or ")[0])
    inside = "; ".join(entries)
    return f"{model.kind} my_{model.name} : {model.name} {{ {inside} }}"


def shown(value: float | None, unit: str) -> str:
    """An SI value in a shown unit, `12 Ah`; empty for None."""
    if value is None:
        return ""
    factor, zero = SHOWN[unit]
    number = f"{(value - zero) / factor:.6g}"
    return f"{number} {unit}".rstrip()


def _single(parameter: Parameter) -> ParameterWords:
    unit = _unit(parameter)
    return ParameterWords(
        parameter.name,
        unit,
        f"{parameter.name} {parameter.example}".rstrip(),
        shown(parameter.default, unit),
        _bounds(parameter.low, parameter.high, unit, parameter.low_allowed, parameter.whole),
        parameter.help,
        parameter.basis,
        parameter.required,
    )


def _window(parameter: Window) -> ParameterWords:
    unit = _unit(parameter)
    default = ""
    if parameter.default is not None:
        default = " .. ".join(shown(each, unit) for each in parameter.default)
    return ParameterWords(
        parameter.name,
        unit,
        f"{parameter.name} {parameter.example}".rstrip(),
        default,
        _bounds(parameter.low, parameter.high, unit, True, False),
        parameter.help,
        parameter.basis,
        parameter.required,
    )


def _unit(parameter: Any) -> str:
    return parameter.shown_unit or UNITS[parameter.dimension]


def _bounds(low: float | None, high: float | None, unit: str, low_allowed: bool, whole: bool) -> str:
    start = "a whole number, " if whole else ""
    if low is not None and high is not None and low_allowed:
        return f"{start}{shown(low, unit)} to {shown(high, unit)}"
    parts = []
    if low is not None:
        parts.append(f"{'at least' if low_allowed else 'more than'} {shown(low, unit)}")
    if high is not None:
        parts.append(f"at most {shown(high, unit)}")
    return (start + ", ".join(parts)).rstrip(", ")


def sentence(text: str) -> str:
    """A declaration's text with a capital and a full stop."""
    text = re.sub(r"\s+", " ", text.strip())
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
