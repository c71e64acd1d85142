"""One thing to say about a station or its run, on the one scale of levels."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Level
from copperpath_grammar.source import Span


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to say about the station or its run; `span` is what it speaks of in the text."""

    level: Level
    rule: str
    message: str
    subject: str
    span: Span | None
    remedy: str
    yields: str = ""
    """What the remedy gives, from a second solution; "" where there is none."""
    limit_from: str = ""
    """Where the limit comes from."""
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    accepted: str = ""
    """Why the author lets it stand; "" if nobody does."""
    open: bool = False
    """A question of a checklist that the file does not answer."""
