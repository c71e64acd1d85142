"""What `copperpath validation` does."""

from __future__ import annotations

from difflib import get_close_matches

import click

from copperpath.cli.exit_codes import GOOD
from copperpath.cli.say import say
from copperpath.report.validation import read_validation
from copperpath.report.validation.screen import topic_screen, validation_json, validation_screen


def show_validation(topic: str | None, *, as_json: bool) -> int:
    """Show what was checked against the outside world: all topics, or every figure of one."""
    found = read_validation()
    names = [each.name for each in found.topics]
    if topic is not None and topic not in names:
        near = get_close_matches(topic, names, n=1)
        hint = f"; did you mean `{near[0]}`?" if near else ""
        raise click.ClickException(
            f"nothing is checked under the topic `{topic}`{hint}\nTopics: {', '.join(names)}"
        )
    if as_json:
        say(validation_json(found, topic))
    elif topic is None:
        say(validation_screen(found))
    else:
        about = next(each for each in found.topics if each.name == topic)
        say(topic_screen(about, found.of(topic)))
    return GOOD
