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
