"""One mistake in a line that stands for many devices is told once, and too many are cut off.

Every kit of an assembly and every one of many builds the same line again, so its mistakes come
back with another device's name in them: `table[1].rig`, `table[2].rig`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import ClassVar

from copperpath.build.value_errors import UnknownValue, UnusedValue
from copperpath.build.wiring_errors import NotConnected, UnknownTerminal
from copperpath_grammar.diagnostics import Diagnostic

_INDEX = re.compile(r"\[[0-9]+\]")
_KITS = re.compile(r"`(?:\w+\.)+(?=\w)")


@dataclass(frozen=True, slots=True)
class MoreMistakes(Diagnostic):
    """Mistakes that are left out."""

    count: int
    code: ClassVar[str] = "build/more-mistakes"

    @property
    def message(self) -> str:
        count = f"{self.count:,}".replace(",", " ")
        return f"from here on {count} more mistakes are left out"

    @property
    def help(self) -> str:
        return "mend those above first; many of the others may go with them"


def said_once(problems: Iterable[Diagnostic]) -> list[Diagnostic]:
    """The mistakes without those that only repeat an earlier one for another of many devices."""
    by_place: dict[tuple[int, int, int, str], list[Diagnostic]] = {}
    for problem in problems:
        span = problem.span
        key = (id(span.source), span.start, span.end, problem.code)
        by_place.setdefault(key, []).append(problem)
    found: list[Diagnostic] = []
    for same_place in by_place.values():
        if isinstance(same_place[0], NotConnected):
            found.append(_gathered(same_place))
            continue
        if isinstance(same_place[0], UnknownTerminal):  # of `strip.[1..9]` the first that is none
            found.append(same_place[0])
            continue
        seen: set[str] = set()
        for problem in same_place:
            message = _plain(problem.message) if len(same_place) > 1 else ""
            if message not in seen:
                seen.add(message)
                found.append(problem)
    return _without_echoes(found)


def _without_echoes(problems: list[Diagnostic]) -> list[Diagnostic]:
    """A named value that is only mistyped where it is used is not told of as unused as well."""
    meant = {problem.near for problem in problems if isinstance(problem, UnknownValue)}
    return [each for each in problems if not (isinstance(each, UnusedValue) and each.name in meant)]


def _plain(message: str) -> str:
    """The message without what tells one of many devices from the others."""
    return _KITS.sub("`", _INDEX.sub("", message))


def _gathered(problems: list[Diagnostic]) -> Diagnostic:
    """All devices of one line that have no cable."""
    first = problems[0]
    assert isinstance(first, NotConnected)
    others = [each.terminal for each in problems[1:] if isinstance(each, NotConnected)]
    others = [each for each in dict.fromkeys(others) if each != first.terminal]
    return replace(first, others=tuple(others))
