"""How the commands beside those on stations are called: lists, explanations, help for authors."""

from __future__ import annotations

from pathlib import Path

import click

from copperpath.cli.options import JSON, PLUGINS


@click.command(short_help="List device models and ready parts, or show all of one.")
@click.argument("name", required=False)
@PLUGINS
def models(name: str | None, plugins: tuple[Path, ...]) -> int:
    """List the device models, and the parts of the libraries.

    With the NAME of a model show every entry that it takes, with its unit, default, bounds and
    meaning, and its terminals; with that of a library, such as `radios`, its parts with their
    figures; with that of a part, such as `hf_100w`, where these come from.
    """
    from copperpath.cli.models_command import show_models

    return show_models(name, plugins=plugins)


@click.command(short_help="Say what a mistake, or a wiring rule, means, and what mends it.")
@click.argument("code", required=False)
def explain(code: str | None) -> int:
    """Say what the mistake CODE, such as build/unknown-model, means and why it is refused, with
    a text that has it and the text mended; or what the wiring rule CODE, such as line-drop, looks
    at and where its limit comes from. Without CODE, list all of them.
    """
    from copperpath.cli.explain import explain_mistake

    return explain_mistake(code)


@click.command(short_help="Show what was checked against published figures.")
@click.option("--topic", metavar="NAME", help="Show every figure of one topic, such as wires.")
@JSON
def validation(topic: str | None, as_json: bool) -> int:
    """Show which published figures ours were held against, how far they are apart, what differs
    and why, and what was not checked.
    """
    from copperpath.cli.validation_command import show_validation

    return show_validation(topic, as_json=as_json)


@click.command(short_help="Hold a device model against every promise of the interface.")
@click.argument("model")
@PLUGINS
@click.option(
    "--draws",
    type=click.IntRange(1, 10_000),
    default=40,
    show_default=True,
    help="How many devices are drawn at random from the model's declarations.",
)
@click.option(
    "--seed",
    type=click.IntRange(0),
    default=1,
    show_default=True,
    help="The same seed draws the same devices and voltages.",
)
@JSON
def conform(model: str, plugins: tuple[Path, ...], draws: int, seed: int, as_json: bool) -> int:
    """Hold MODEL against every promise of the plugin interface.

    For authors of models. Devices are drawn at random from what the model declares, and its law
    is tried at many voltages. Exits 0 if every check is passed, 1 if one is not, 2 if the call is
    wrong.
    """
    from copperpath.cli.author_commands import conform_model

    return conform_model(model, plugins=plugins, draws=draws, seed=seed, as_json=as_json)


@click.command(short_help="Write a new small package with a device model of your own.")
@click.argument("folder", type=click.Path(path_type=Path, readable=False))
@click.option("--name", required=True, help="What station files will call the model.")
def scaffold(folder: Path, name: str) -> int:
    """Write a package with one model, its test and its entry point into FOLDER, which must be new
    or empty. The model passes the conformance suite; change it into your own.
    """
    from copperpath.cli.author_commands import scaffold_package

    return scaffold_package(folder, name)


@click.command(short_help="Help with station files inside an editor.")
@PLUGINS
def editor(plugins: tuple[Path, ...]) -> int:
    """Speak the Language Server Protocol over standard input and output.

    An editor starts this by itself once it is told to; see the page "In an editor" of the
    documentation. It needs `pip install 'copperpath[editor]'`.
    """
    from copperpath.cli.editor_command import serve_editor

    return serve_editor(plugins)


CALLS = (models, explain, validation, conform, scaffold, editor)
"""All of them."""
