"""The screens of `copperpath models`: what there is, and all that one model takes."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.plugin_api import Model
from copperpath.report.declared import (
    COMMON,
    ParameterWords,
    example_text,
    parameter_words,
    sentence,
    terminal_words,
)
from copperpath.report.layout import Column, paragraph, table

KINDS = ("source", "converter", "storage", "block", "load")


def models_screen(models: Sequence[type[Model]]) -> str:
    """The list of models by kind."""
    lines = []
    for kind in KINDS:
        rows = [(model.name, model.summary) for model in models if model.kind == kind]
        if rows:
            lines += ["", *table((Column(kind, right=False), Column("", right=False)), sorted(rows))]
    lines += ["", "`copperpath models NAME` shows all that one of them takes."]
    return "\n".join(lines[1:]) + "\n"


def model_screen(model: type[Model]) -> str:
    """All that one model takes: parameters with units, defaults and bounds, terminals, limits."""
    lines = paragraph(f"{model.name} ({model.kind}): {model.summary}", indent="")
    words = [parameter_words(parameter) for parameter in model.parameters]
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
        lines += paragraph(each.help, indent=f"  {each.name:<18}  " if len(each.name) <= 18 else f"  {each.name}  ", hanging=" " * 22)
        facts = []
        if each.example:
            facts.append(each.example)
        if each.unit and each.unit not in ("word", "hours", "place", "text"):
            facts.append(f"in {each.unit}")
        if each.bounds:
            facts.append(each.bounds)
        if each.default:
            facts.append(f"else {each.default}" + (f" ({each.basis})" if each.basis else ""))
        if facts:
            lines += paragraph("; ".join(facts), indent=" " * 22)
    return [*lines, ""]
