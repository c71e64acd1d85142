"""From a station and a time to the netlist of that instant: the station is run up to it."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, TypeAlias

import numpy as np

from copperpath.netlist.operating_point import Netlist, operating_point
from copperpath.solver.solution import Outcome
from copperpath.station import Station
from copperpath.study.executors import choose_executor
from copperpath.study.lay_out import lay_out

Column: TypeAlias = Literal["mean", "worst"]


class NotSolved(Exception):
    """The step of the instant has no operating point to write; the text says so."""


def netlist_at(
    station: Station,
    *,
    after_s: float = 0.0,
    step_s: float = 60.0,
    column: Column = "mean",
    executor: str = "",
) -> Netlist:
    """The netlist of the step that begins at or last before `after_s`.

    Parameters
    ----------
    station : Station
        As loaded.
    after_s : float
        Seconds from the start of the run, before its end [s].
    step_s : float
        Length of a step [s].
    column : "mean" or "worst"
        The mean of the key states, or every radio that is on keyed.
    executor : str
        "" for the best that can be had, "compiled" or "twin".

    Raises
    ------
    NotSolved
        If no operating point was found there.
    NetworkRefused, SiteProblem
        As for a run.
    CannotBeWritten
        If a model's law does what no formula can say.
    """
    # What comes after the instant changes nothing in it, so it is not run.
    steps = int((after_s + 1e-6) // step_s) + 1
    until = replace(station, site=replace(station.site, lasts_s=steps * step_s))
    problem, _ = lay_out(until, step_s)
    begins = problem.site.time_s - problem.site.time_s[0]
    step = int(np.searchsorted(begins, after_s + 1e-6, side="right")) - 1
    solution = choose_executor(executor).solve(problem)
    chosen = problem.columns.mean if column == "mean" else problem.columns.worst
    if solution.outcome[step, chosen] == Outcome.NOT_SOLVED:
        raise NotSolved("this step could not be solved, so there is no operating point to write")
    return operating_point(problem, solution, step, chosen)
