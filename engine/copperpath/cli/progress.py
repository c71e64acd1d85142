"""A line on the terminal while a long run is under way."""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import TYPE_CHECKING

from copperpath.cli.say import say

if TYPE_CHECKING:
    from rich.progress import Progress, TaskID

PATIENCE_S = 2.0


class Waiting:
    """Told how far a run is; shows it on stderr if that is a terminal and it takes long.

    Preparing the compiled kernels happens once on a machine and is said in any case, so that
    nobody takes the first run for stuck.
    """

    def __init__(self) -> None:
        self._began = time.monotonic()
        self._bar: Progress | None = None
        self._task: TaskID | None = None
        self._said: set[str] = set()

    def __enter__(self) -> Waiting:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._bar is not None:
            self._bar.stop()

    def __call__(self, what: str, share: float) -> None:
        """`what` is being done, and `share` (0 to 1) of it is behind us."""
        if what.startswith("preparing"):
            if what not in self._said:
                self._said.add(what)
                say(what + "\n", error=True)
            return
        if not sys.stderr.isatty() or time.monotonic() - self._began < PATIENCE_S:
            return
        if self._bar is None:
            self._start(what)
        assert self._bar is not None
        assert self._task is not None
        self._bar.update(self._task, completed=share, description=what)

    def _start(self, what: str) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

        self._bar = Progress(
            TextColumn("{task.description}"),
            BarColumn(bar_width=24),
            TimeRemainingColumn(),
            console=Console(stderr=True),
            transient=True,
        )
        self._bar.start()
        self._task = self._bar.add_task(what, total=1.0)
