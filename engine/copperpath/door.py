"""The way in from Python: `copperpath.load("my.station").run()`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from copperpath.record.record import Record
    from copperpath.station import Station
    from copperpath_grammar import Diagnostic


class Failure(Exception):
    """A station file with mistakes; the text is what the command would print."""

    def __init__(self, text: str, diagnostics: tuple[Diagnostic, ...]) -> None:
        super().__init__(text)
        self.diagnostics = diagnostics


@dataclass(frozen=True, slots=True)
class OpenStation:
    """A station that was read without mistakes."""

    station: Station

    def run(self, *, step_s: float = 60.0, executor: str = "") -> Record:
        """Run it over its stated time in steps of `step_s` [s].

        Returns
        -------
        Record
            With the verdict, tables and traces; `record.frame()` gives pandas.
        """
        from copperpath.pipeline import run

        return run(self.station, step_s=step_s, executor=executor)


def load(path: str | Path, *, plugins: Sequence[Path] = ()) -> OpenStation:
    """Read a station file.

    Raises
    ------
    Failure
        If it has mistakes; all of them are in the text.
    OSError
        If it cannot be read.
    """
    from copperpath.pipeline import load as read
    from copperpath_grammar import render

    loaded = read(path, plugins=plugins)
    if loaded.station is None:
        raise Failure(render(loaded.diagnostics), loaded.diagnostics)
    return OpenStation(loaded.station)
