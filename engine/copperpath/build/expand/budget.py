"""How large a station may get by brackets and kits; past that, expanding stops at once."""

from __future__ import annotations

from copperpath.build.expand.expand_errors import NameTooLong, TooMany
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.source import Span

MOST_DEVICES = 5_000
"""Devices and kits together."""

MOST_LINES = 20_000
"""Cables, requirements and the like."""

MOST_PLACES = 100_000
"""Ends of cables and subjects of requirements that ranges stand for."""

LONGEST_NAME = 300


class Overrun(Exception):
    """The station is too large; the diagnostic says by what."""

    def __init__(self, problem: Diagnostic) -> None:
        super().__init__(problem.message)
        self.problem = problem


class Budget:
    """Counts what is made."""

    def __init__(self) -> None:
        self._devices = 0
        self._lines = 0
        self._places = 0

    def device(self, name: str, span: Span) -> None:
        """One more device or kit.

        Raises
        ------
        Overrun
            If it is one too many, or nobody could read its name.
        """
        self._devices += 1
        if self._devices > MOST_DEVICES:
            raise Overrun(TooMany(span, "devices and kits", MOST_DEVICES))
        if len(name) > LONGEST_NAME:
            raise Overrun(NameTooLong(span, LONGEST_NAME))

    def places(self, span: Span, count: int) -> None:
        """So many more things that a path with ranges stands for.

        Raises
        ------
        Overrun
            If these are too many.
        """
        self._places += count
        if self._places > MOST_PLACES:
            raise Overrun(TooMany(span, "ends and subjects by its ranges", MOST_PLACES))

    def line(self, span: Span, count: int = 1) -> None:
        """One more line, or several.

        Raises
        ------
        Overrun
            If it is one too many.
        """
        self._lines += count
        if self._lines > MOST_LINES:
            raise Overrun(TooMany(span, "cables and requirements", MOST_LINES))
