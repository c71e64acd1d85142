"""A reference page for one model, Markdown, made from its declarations for the docs."""

from __future__ import annotations

from copperpath.plugin_api import Latch, Model
from copperpath.report.declared import (
    ParameterWords,
    all_words,
    example_text,
    examples,
    sentence,
    terminal_words,
)

MEANINGS = {
    "Accumulator": "adds up over time",
    "Latch": "switches over and stays",
    "Lag": "follows slowly",
}


def model_page(model: type[Model]) -> str:
    """The page of one model.

    Parameters
    ----------
    model : type of Model
        A registered model.
    """
    parts = [
        f"# `{model.name}`",
        f"A {model.kind}: {sentence(model.summary)}",
        "The least it needs:",
        f"```text\n{example_text(model)}\n```",
        "## Parameters",
        "\n\n".join(_parameter(each) for each in all_words(model)),
        "Beside these, every device takes `mass`, `priority` and `note`.",
        "## Terminals",
        "\n".join(f"- `{name}`: {meaning}" for name, meaning in terminal_words(model)),
    ]
    if model.states:
        parts += ["## What it remembers", "\n".join(_state(state) for state in model.states)]
    if model.leaves_out:
        parts += ["## What it leaves out", sentence(model.leaves_out)]
    return "\n\n".join(parts) + "\n"


def index_page(models: list[type[Model]]) -> str:
    """The page that lists the models, with the hidden table of contents that Sphinx wants."""
    rows = "\n".join(
        f"| [`{model.name}`]({model.name}.md) | {model.kind} | {sentence(model.summary)} |"
        for model in models
    )
    names = "\n".join(model.name for model in models)
    return (
        "# Models\n\nEvery model that comes along, written from its own declarations. "
        "`copperpath models NAME` prints the same on the screen.\n\n"
        f"| model | kind | what it is |\n|---|---|---|\n{rows}\n\n"
        f"```{{toctree}}\n:hidden:\n\n{names}\n```\n"
    )


def _parameter(words: ParameterWords) -> str:
    need = "required" if words.required else "optional"
    lines = [f"`{words.name}` ({need})", f": {sentence(words.help)}"]
    if words.example:
        lines.append(f"  Written {examples(words)}.")
    if words.bounds:
        lines.append(f"  Allowed: {words.bounds}.")
    if words.default:
        basis = f" ({words.basis})" if words.basis else ""
        lines.append(f"  If not given: {words.default}{basis}.")
    return "\n".join(lines)


def _state(state: object) -> str:
    name = getattr(state, "name", "")
    extra = ""
    if isinstance(state, Latch) and state.judged == "worst":
        extra = ", judged at the worst instant"
    return f"- `{name}`: {MEANINGS[type(state).__name__]}{extra}"
