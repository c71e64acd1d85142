"""What the devices of the main circuit are given at one step and key state."""

from __future__ import annotations

from copperpath.plugin_api import FloatArray
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Solution


def states_at(problem: Problem, solution: Solution, step: int) -> list[FloatArray]:
    """What each device of the main part remembers at the start of a step, by slot."""
    found: list[FloatArray] = []
    first = 0
    for data in problem.main:
        found.append(solution.states[step, first : first + len(data.states)])
        first += len(data.states)
    return found


def drives_at(problem: Problem, step: int, column: int) -> list[FloatArray]:
    """The inputs of each device of the main part, its key state filled in, by slot."""
    found: list[FloatArray] = []
    radio = 0
    for data in problem.main:
        drives = data.drives[:, step].copy()
        if data.level_at >= 0:
            drives[data.level_at] = problem.columns.levels[step, column, radio]
            radio += 1
        found.append(drives)
    return found
