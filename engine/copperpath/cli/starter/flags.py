"""The options of `copperpath new` to answers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import click

from copperpath.cli.starter.questions import counted_parts
from copperpath.cli.starter.text import Answers

LISTS = {"radios": "radio", "loads": "load"}
SINGLE = {"battery": "battery", "panel": "panel"}


def answers_from(given: Mapping[str, str | bool]) -> Answers:
    """The answers that options give; what they do not give stays as usual.

    Raises
    ------
    click.BadParameter
        If a part is not among the choices.
    """
    found: dict[str, Any] = dict(given)
    for name, group in (LISTS | SINGLE).items():
        if name not in found:
            continue
        parts = counted_parts(str(found[name]), group)
        if name in LISTS:
            found[name] = parts
        elif len(parts) == 1 or (not parts and name == "panel"):
            found[name] = parts[0] if parts else ""
        else:
            raise click.BadParameter("name one of them", param_hint=f"--{name}")
    return Answers(**found)
