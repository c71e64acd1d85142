"""How the values of an entry go on: which words, which units, and what joins them.

A form is told from a model's declaration, or stands in `fixed_forms` for cables and the station.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from copperpath.build.parameters import FACINGS, entry_names, example_of
from copperpath.editor.unit_choice import Measured
from copperpath.plugin_api import (
    Ambient,
    AnyParameter,
    Choice,
    Hours,
    Model,
    Mounting,
    Parameter,
    ShareByHour,
    Window,
)
from copperpath.report.declared import (
    ParameterWords,
    all_words,
    examples,
    parameter_words,
    sentence,
)


@dataclass(frozen=True, slots=True)
class Form:
    """How an entry is written.

    Attributes
    ----------
    first : sequence of str
        Words that may stand right behind the entry's name.
    after : mapping of str to sequence of str
        Words that may stand behind a joining word or a comma.
    joins : sequence of str
        What may join a further value.
    measured : mapping of str to Measured
        What a value measures, by the joining word before it; "" is the first.
    unit : str
        The unit to propose first.
    named : bool
        Whether named values may stand here.
    """

    help: str
    example: str = ""
    first: Sequence[str] = ()
    after: Mapping[str, Sequence[str]] = field(default_factory=dict)
    joins: Sequence[str] = ()
    measured: Mapping[str, Measured] = field(default_factory=dict)
    unit: str = ""
    named: bool = True


def parameter_form(parameter: AnyParameter) -> Form:
    """The form of a declared parameter."""
    words = parameter_words(parameter)
    told, example = explained(words), example_of(parameter).partition(" ")[2]
    match parameter:
        case Parameter():
            measured: Mapping[str, Measured] = {"": parameter.dimension}
            if parameter.dimension == "number":
                return Form(told, example, measured=measured)
            return Form(told, example, measured=measured, unit=parameter.shown_unit)
        case Window():
            measured = {"": parameter.dimension, "..": parameter.dimension}
            return Form(told, example, joins=("..",), measured=measured, unit=parameter.shown_unit)
        case Choice():
            return Form(told, first=parameter.words, named=False)
        case Hours():
            return Form(told, example, joins=("to", "and", "on", "from"), named=False)
        case ShareByHour():
            joins = ("from", "to", "on", "otherwise")
            return Form(told, example, joins=joins, measured={"": "share", "otherwise": "share"})
        case Mounting():
            after = {",": tuple(FACINGS)}
            measured = {"": "angle", ",": "angle", "every": "time"}
            # Whether a panel may be aimed anew now and then, the declaration's words tell.
            first = tuple(word for word in ("flat", "aimed") if word in words.example)
            again = ("every",) if "aimed" in first else ()
            return Form(told, example, first=first, after=after, joins=again, measured=measured)
        case Ambient():
            measured = {"": "temperature", "+": "temperature_difference"}
            return Form(told, example, first=("air",), joins=("+",), measured=measured)


def explained(words: ParameterWords) -> str:
    """A parameter for reading: meaning, how it is written, bounds, default and its basis."""
    need = "required" if words.required else "optional"
    lines = [f"**{words.name}** ({need}): {sentence(words.help)}"]
    if words.example:
        lines.append(f"Written {examples(words)}.")
    if words.bounds:
        lines.append(f"Allowed: {words.bounds}.")
    if words.default:
        lines.append(f"If not given: {words.default}{f' ({words.basis})' if words.basis else ''}.")
    return "\n\n".join(lines)


def model_forms(model: type[Model]) -> dict[str, Form]:
    """The forms of a model's entries by the words that begin them."""
    forms = {
        name: parameter_form(parameter)
        for parameter in model.parameters
        for name in entry_names(parameter)
    }
    for words in all_words(model):
        if words.name not in forms:
            forms[words.name] = Form(explained(words), words.example.partition(" ")[2], named=False)
    return forms
