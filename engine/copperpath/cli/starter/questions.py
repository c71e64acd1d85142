"""The few questions of `copperpath new`; an answer that no station file can hold is asked again."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import click

from copperpath.cli.say import say
from copperpath.cli.starter.choices import GROUPS
from copperpath.cli.starter.text import Answers, starter_text

COUNTED = re.compile(r"(?:(\d{1,2})\s*(?:x\s*)?)?(\w+)")
MOST_OF_ONE = 8


def ask(answers: Answers) -> Answers:
    """Ask for everything; what is in `answers` is proposed."""
    say("A station file in a few questions; an empty answer takes what stands in brackets.\n\n")
    answers = _text("What is the station called", "title", answers)
    answers = _text("Where: latitude, longitude, height", "place", answers)
    answers = _text("When does it start, with the offset from UTC", "starts", answers)
    answers = _text("How long must it last", "lasts", answers)
    answers = _text("Air, coolest .. warmest of the day", "air", answers)
    answers = _parts("radio", "Radios, such as `hf_10w, 2 fm_25w`", "radios", answers)
    answers = _parts("load", "What else needs power (or `none`)", "loads", answers)
    answers = _one("battery", "Battery", "battery", answers)
    answers = _one("panel", "Panel (or `none`)", "panel", answers)
    return replace(answers, generator=click.confirm("A generator", default=answers.generator))


def counted_parts(text: str, group: str) -> tuple[str, ...]:
    """`hf_10w, 2 fm_25w` as one name for each device.

    Raises
    ------
    click.BadParameter
        If a name is not among the choices.
    """
    known = [each.part for each in GROUPS[group]]
    found: list[str] = []
    for piece in re.split(r"[,;]", text):
        match = COUNTED.fullmatch(piece.strip())
        if piece.strip() in ("", "none"):
            continue
        count = int(match[1] or 1) if match else 0
        if match is None or match[2] not in known or not 1 <= count <= MOST_OF_ONE:
            raise click.BadParameter(
                f"`{piece.strip()}` is none of {', '.join(known)}; up to {MOST_OF_ONE} of a kind "
                f"are written `2 {known[0]}`"
            )
        found += count * [match[2]]
    return tuple(found)


def problem_with(answers: Answers) -> str:
    """What the language has to say against an answer; "" if nothing."""
    from copperpath.pipeline import load_text

    loaded = load_text(starter_text(answers), name="answer")
    if not loaded.diagnostics:
        return ""
    first = loaded.diagnostics[0]
    return f"{first.message}; {first.help}" if first.help else first.message


def _text(question: str, name: str, answers: Answers) -> Answers:
    def checked(value: str) -> str:
        problem = problem_with(_with(answers, name, value))
        if problem:
            raise click.BadParameter(problem)
        return value

    return _asked(question, name, answers, checked, getattr(answers, name))


def _parts(group: str, question: str, name: str, answers: Answers) -> Answers:
    _list(group)
    shown = ", ".join(getattr(answers, name)) or "none"
    return _asked(question, name, answers, lambda text: counted_parts(text, group), shown)


def _one(group: str, question: str, name: str, answers: Answers) -> Answers:
    def checked(text: str) -> str:
        found = counted_parts(text, group)
        if len(found) > 1 or (not found and group == "battery"):
            raise click.BadParameter("name one of them")
        return found[0] if found else ""

    _list(group)
    return _asked(question, name, answers, checked, getattr(answers, name) or "none")


def _asked(
    question: str, name: str, answers: Answers, checked: Callable[[str], Any], shown: str
) -> Answers:
    return _with(answers, name, click.prompt(question, default=shown, value_proc=checked))


def _with(answers: Answers, name: str, value: Any) -> Answers:
    changes: dict[str, Any] = {name: value}
    return replace(answers, **changes)


def _list(group: str) -> None:
    lines = [f"  {each.part:<14} {each.words}" for each in GROUPS[group]]
    say("\n".join(["", *lines]) + "\n")
