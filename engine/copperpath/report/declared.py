"""What a model declares, in words: the rows behind `copperpath models` and the reference pages.

Nothing is written twice: names, units, defaults, bounds and help come from the declarations.
"""

from __future__ import annotations

import re
from collections.abc import Container
from dataclasses import dataclass

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
from copperpath.quantities.dimensions import MEANINGS
from copperpath.quantities.show import written


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
    ParameterWords(
        "accept",
        "two texts",
        'accept "low-power", "at half power"',
        "",
        "",
        "a finding of a wiring rule that may stand, and why",
        "",
        False,
    ),
    ParameterWords(
        "confirm",
        "two texts",
        'confirm "lightning", "antennas down"',
        "",
        "",
        "a question of the checklist, and its answer",
        "",
        False,
    ),
)
"""Entries that every device takes."""


def all_words(model: type[Model]) -> list[ParameterWords]:
    """What a model takes beyond those, in words."""
    words = [parameter_words(parameter) for parameter in model.parameters]
    if model.on_surplus and not model.spare:
        help_text = f"only while there is surplus sun; it is then a `{model.on_surplus}`"
        words.append(ParameterWords("runs", "", "runs on surplus", "", "", help_text, "", False))
    return words


def parameter_words(parameter: AnyParameter) -> ParameterWords:
    """One declaration in words."""
    match parameter:
        case Parameter():
            return _single(parameter)
        case Window():
            return _window(parameter)
        case Choice():
            return _choice(parameter)
        case ShareByHour():
            return _share(parameter)
        case Hours():
            return _hours(parameter)
        case Mounting(name):
            example = f"{name} flat, or {name} 60 deg, south, or {name} aimed every 3 h"
            return _plain(parameter, "place", example, required=parameter.required)
        case Ambient():
            example = f"{parameter.name} 5 degC, or {parameter.name} air + 6 K"
            return _plain(parameter, "degC", example, default="follows the air")


def examples(words: ParameterWords) -> str:
    """How it is written, in backticks, one way or two."""
    return " or ".join(f"`{way}`" for way in words.example.split(", or "))


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


def example_text(model: type[Model], part: str = "", given: Container[str] = ()) -> str:
    """A declaration with every required parameter, ready to be copied.

    With a `part` of that model it takes the part, and what is `given` there stays away.
    """
    entries = []
    for parameter in model.parameters:
        words = parameter_words(parameter)
        if words.required and words.name not in given:
            entries.append(words.example.split(", or ")[0])
    inside = f" {'; '.join(entries)} " if entries else " "
    name = part or model.name
    return f"{model.kind} my_{name} : {name} {{{inside}}}"


def _single(parameter: Parameter) -> ParameterWords:
    unit = _unit(parameter)
    return ParameterWords(
        parameter.name,
        unit,
        f"{parameter.name} {parameter.example}".rstrip(),
        "" if parameter.default is None else written(parameter.default, parameter.dimension, unit),
        _bounds(parameter, parameter.low_allowed, parameter.whole),
        parameter.help,
        parameter.basis,
        parameter.required,
    )


def _window(parameter: Window) -> ParameterWords:
    unit = _unit(parameter)
    default = ""
    if parameter.default is not None:
        default = " .. ".join(
            written(each, parameter.dimension, unit) for each in parameter.default
        )
    return ParameterWords(
        parameter.name,
        unit,
        f"{parameter.name} {parameter.example}".rstrip(),
        default,
        _bounds(parameter, True, False),
        parameter.help,
        parameter.basis,
        parameter.required,
    )


def _choice(parameter: Choice) -> ParameterWords:
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


def _share(parameter: ShareByHour) -> ParameterWords:
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


def _hours(parameter: Hours) -> ParameterWords:
    other = f", or {parameter.inverse} 23:00 to 06:00" if parameter.inverse else ""
    example = f"{parameter.name} 06:00 to 23:00{other}"
    return _plain(parameter, "hours", example, default="always")


def _plain(
    parameter: Hours | Mounting | Ambient,
    unit: str,
    example: str,
    *,
    default: str = "",
    required: bool = False,
) -> ParameterWords:
    return ParameterWords(parameter.name, unit, example, default, "", parameter.help, "", required)


def _unit(parameter: Parameter | Window) -> str:
    return parameter.shown_unit or MEANINGS[parameter.dimension].unit


def _bounds(parameter: Parameter | Window, low_allowed: bool, whole: bool) -> str:
    unit = _unit(parameter)
    low, high = (
        "" if value is None else written(value, parameter.dimension, unit)
        for value in (parameter.low, parameter.high)
    )
    start = "a whole number, " if whole else ""
    if low and high and low_allowed:
        return f"{start}{low} to {high}"
    parts = []
    if low:
        parts.append(f"{'at least' if low_allowed else 'more than'} {low}")
    if high:
        parts.append(f"at most {high}")
    return (start + ", ".join(parts)).rstrip(", ")


def sentence(text: str) -> str:
    """A declaration's text with a capital and a full stop."""
    text = re.sub(r"\s+", " ", text.strip())
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
