"""What `copperpath editor` does: a clear word to people, the protocol to editors."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

import click

from copperpath.cli.commands import must_be_readable
from copperpath.cli.exit_codes import GOOD

MISSING = (
    "this needs the libraries `pygls` and `lsprotocol`, which are not installed;\n"
    "write: pip install 'copperpath[editor]'"
)
BY_HAND = (
    "this command speaks with an editor, not with people: name `copperpath editor` in\n"
    "your editor's settings as the language server for files that end in `.station`"
)


def serve_editor(plugins: Sequence[Path]) -> int:
    """Serve until the editor says goodbye; the exit code."""
    must_be_readable(*plugins)
    if find_spec("pygls") is None or find_spec("lsprotocol") is None:
        raise click.ClickException(MISSING)
    if sys.stdin.isatty():
        raise click.ClickException(BY_HAND)
    from contextlib import redirect_stdout

    from copperpath.pipeline import PluginTrouble, catalogue_with

    try:
        with redirect_stdout(sys.stderr):  # a plugin that prints would spoil the protocol
            catalogue = catalogue_with(plugins)
    except PluginTrouble as trouble:
        raise click.ClickException(str(trouble)) from trouble
    from copperpath.editor.server import serve

    serve(catalogue)
    return GOOD
