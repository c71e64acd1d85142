"""The screens of `copperpath models`: what there is, and all that one model takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from copperpath.plugin_api import Model
from copperpath.report.declared import (
    COMMON,
    ParameterWords,
    all_words,
    example_text,
    examples,
    sentence,
    terminal_words,
)
from copperpath.report.layout import paragraph
from copperpath.report.part_sheets import PartSheet
from copperpath.report.parts_screen import shelf_lines

KINDS = ("source", "converter", "storage", "block", "load")
WORDY = ("word", "hours", "place", "text")
"""What stands in place of a unit where a value is not a quantity."""
INDENT = 22


def models_screen(
    models: Sequence[type[Model]], libraries: Mapping[str, Sequence[PartSheet]]
) -> str:
    """The list of models by kind, and the names of the parts of each library."""
    lines: list[str] = []
    longest = max((len(model.name) for model in models), default=0)
    for kind in KINDS:
        some = sorted((m for m in models if m.kind == kind), key=lambda model: model.name)
        lines += [kind] if some else []
        for model in some:
            mark = f"  {model.name:<{longest}}  "
            lines += paragraph(model.summary, indent=mark, hanging=" " * len(mark))
    lines += ["", *shelf_lines(libraries)] if libraries else []
    closing = "`copperpath models NAME` shows all of a model, of a library or of a part."
    lines += ["", closing]
    return "\n".join(lines) + "\n"


def model_screen(model: type[Model]) -> str:
    """All that one model takes: parameters with units, defaults and bounds, terminals, limits."""
    lines = paragraph(f"{model.name} ({model.kind}): {model.summary}", indent="")
    words = all_words(model)
    lines += ["", *_section("Must be given", [each for each in words if each.required])]
    lines += _section("May be given", [each for each in words if not each.required])
    lines += _section("Every device takes", list(COMMON))
    lines += ["Terminals"]
    for name, meaning in terminal_words(model):
        lines += paragraph(meaning, indent=f"  {name:<12}  ", hanging=" " * 16)
    lines += ["", "The least it needs"]
    lines += paragraph(example_text(model), hanging="      ")
    if model.leaves_out:
        lines += ["", "What it leaves out"]
        lines += paragraph(sentence(model.leaves_out))
    return "\n".join(lines) + "\n"


def _section(title: str, words: list[ParameterWords]) -> list[str]:
    if not words:
        return []
    lines = [title]
    for each in words:
        mark = f"  {each.name:<18}  "
        lines += paragraph(each.help, indent=mark, hanging=" " * INDENT)
        facts = _facts(each)
        if facts:
            lines += paragraph("; ".join(facts), indent=" " * INDENT)
    return [*lines, ""]


def _facts(words: ParameterWords) -> list[str]:
    """Written how, in which unit, within which bounds, and what is taken if it is left out."""
    facts = [f"written {examples(words)}"] if words.example else []
    if words.unit and words.unit not in words.example and words.unit not in WORDY:
        facts.append(f"or in {words.unit}")
    if words.bounds:
        facts.append(words.bounds)
    if words.default:
        basis = f" ({words.basis})" if words.basis else ""
        facts.append(f"else {words.default}{basis}")
    return facts
