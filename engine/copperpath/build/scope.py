"""What all readers of a body share: the named values, and the list that mistakes are put on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TypeAlias

from copperpath.build.wording import nearest
from copperpath.quantities import Quantity
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.value_nodes import Body

MOST_HINTS = 100
"""After so many mistakes no more spelling hints are worked out: the file is something else."""

Run: TypeAlias = tuple[datetime, float]
"""Begin of a run, and its length [s]."""


@dataclass(frozen=True, slots=True)
class Scope:
    """Named values, and where mistakes are collected.

    `values` holds None for a name whose own line is wrong (reported there already). `broken`
    names the statements that the parser could not read, as `FileNode.broken` does: what might
    stand in them is not called missing. `run` is when the station runs, None while that is not
    known.
    """

    values: Mapping[str, Quantity | None] = field(default_factory=dict)
    problems: list[Diagnostic] = field(default_factory=list)
    broken: frozenset[str] = frozenset()
    run: Run | None = None

    def report(self, problem: Diagnostic) -> None:
        """Put a mistake on the list."""
        self.problems.append(problem)

    @property
    def gives_hints(self) -> bool:
        """Whether spelling hints are still worked out."""
        return len(self.problems) < MOST_HINTS

    def near(self, word: str, known: Iterable[str]) -> str:
        """The known word that was probably meant, or ""."""
        return nearest(word, known) if self.gives_hints else ""

    def may_be_unread(self, *names: str) -> bool:
        """True if a statement of one of these names (or first words) could not be read."""
        return any(name in self.broken for name in ("", *names))


def unread_in(body: Body, *names: str) -> bool:
    """True if an entry of one of these names stands in the body but could not be read."""
    return any(broken.text in ("", *names) for broken in body.broken)
