"""Write the starter file: from flags alone, or after the questions."""

from __future__ import annotations

from pathlib import Path

import click

from copperpath.cli.exit_codes import GOOD
from copperpath.cli.say import say
from copperpath.cli.starter.questions import ask, problem_with
from copperpath.cli.starter.text import Answers, starter_text
from copperpath_grammar.formatter import format_text


def write_new(file: Path, answers: Answers, *, questions: bool) -> int:
    """Write FILE, which must not exist yet; the exit code."""
    if file.suffix != ".station":
        raise click.ClickException(f"a station file ends in `.station`: try {file}.station")
    if file.exists():
        raise click.ClickException(f"{file} exists already; name another file")
    if questions:
        answers = ask(answers)
    problem = problem_with(answers)
    if problem:
        raise click.ClickException(problem)
    try:
        with file.open("x", encoding="utf-8") as out:
            out.write(format_text(starter_text(answers)).text.replace("FILE", str(file)))
    except OSError as trouble:
        raise click.ClickException(f"{file} cannot be written: {trouble.strerror}") from trouble
    say(
        f"{file} is written. Open it, put in what your labels say and the lengths you measure.\n"
        f"  copperpath check {file}\n  copperpath run {file}\n"
    )
    return GOOD
