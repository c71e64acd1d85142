"""Tables of offers as they are with nothing left out."""

from __future__ import annotations

from copperpath.plugin_api import FloatArray
from copperpath.solver.compiled import prepare
from copperpath.solver.problem import Problem


def full_tables(problem: Problem) -> FloatArray:
    """Tables (time, seeker, 2 * OFFER_POINTS) of every step, made by compiled code."""
    supplies = prepare(problem).supplies
    supplies.complete(range(problem.steps))
    return supplies.points
