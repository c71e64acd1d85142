"""A wrong call and a mistake of ours, in words."""

from __future__ import annotations

import click

MOST_WORDS = 300
"""So many characters of an exception of ours are shown."""


def usage_words(problem: click.UsageError) -> str:
    """A wrong call, and where its right form is shown."""
    from copperpath.report.layout import paragraph

    name = problem.ctx.command_path if problem.ctx is not None else "copperpath"
    lines = paragraph(problem.format_message(), indent="")
    return "\n".join([*lines, f"`{name} --help` shows how it is used."]) + "\n"


def in_width(problem: Exception) -> str:
    """The words of an exception, broken to the width of a screen."""
    from copperpath.report.layout import paragraph

    return "\n".join(paragraph(str(problem), indent=""))


def our_mistake(problem: Exception) -> str:
    """A mistake of ours: what it is, and what to do about it."""
    from copperpath.report.layout import paragraph

    words = str(problem)
    words = words if len(words) <= MOST_WORDS else words[:MOST_WORDS] + " ..."
    lines = paragraph(
        f"a mistake in copperpath itself: {type(problem).__name__}: {words}", indent=""
    )
    lines += paragraph(
        "Your file is not to blame. Please report it together with the file; with "
        "COPPERPATH_TRACEBACK=1 set, the command prints where it happened.",
        indent="",
    )
    return "\n".join(lines) + "\n"
