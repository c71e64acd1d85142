"""A line on the terminal while a long run is under way."""

from __future__ import annotations

import sys
from threading import Timer
from types import TracebackType
from typing import TYPE_CHECKING

from copperpath.cli.say import say
from copperpath.station import Station

if TYPE_CHECKING:
    from rich.status import Status

PATIENCE_S = 2.0
FIRST_TIME = "preparing the solver for this machine, once: this takes about 20 seconds ..."


class Waiting:
    """Told in a few words what is being done; shows it on stderr if that is a terminal and it
    takes more than `PATIENCE_S`."""

    def __init__(self) -> None:
        self._words = ""
        self._status: Status | None = None
        self._timer = Timer(PATIENCE_S, self._show)
        self._timer.daemon = True

    def __enter__(self) -> Waiting:
        if sys.stderr.isatty():
            self._timer.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._timer.cancel()
        if self._timer.is_alive():
            self._timer.join()
        if self._status is not None:
            self._status.stop()

    def __call__(self, words: str) -> None:
        """These words say what is being done from now on."""
        self._words = words
        if self._status is not None:
            self._status.update(words)

    def _show(self) -> None:
        from rich.console import Console

        status = Console(stderr=True).status(self._words)
        status.start()
        status.update(self._words)
        self._status = status


def tell_of_first_run(station: Station) -> None:
    """Say so, terminal or not, if kernels must be compiled: nobody takes that run for stuck."""
    try:
        from copperpath.solver.kernels import is_cached
    except ImportError:
        return
    stations = (station, *(case.station for case in station.cases))
    models = {device.model for one in stations for device in one.devices}
    if not all(is_cached(model) for model in models):
        say(FIRST_TIME + "\n", error=True)
