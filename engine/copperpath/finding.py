"""One thing to say about a station or its run, on the one scale of levels."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Level


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to say about the station or its run."""

    level: Level
    rule: str
    message: str
    subject: str
    line: int | None
    remedy: str
