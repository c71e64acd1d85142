"""Two hundred random stations, an instant of each, and how it was solved."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from support.networks import chattering_station, problem_of, random_station
from support.wider_networks import wider_station

from copperpath.plugin_api import BoolArray
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Outcome, Solution
from copperpath.station import Station

COUNT = 200
STEPS = 16
STEP_S = 600.0


@dataclass(frozen=True)
class Case:
    """A station that was solved, and one step and key state of it."""

    number: int
    problem: Problem
    solution: Solution
    step: int
    column: int

    @property
    def solved(self) -> bool:
        """False if no operating point was found."""
        return bool(self.solution.outcome[self.step, self.column] != Outcome.NOT_SOLVED)

    @property
    def opened(self) -> tuple[int, ...]:
        """Slots of the main part that were taken off at this step: loads that were given up."""
        rows = self.solution.refusals
        here = (rows["step"] == self.step) & (rows["column"] == self.column)
        return tuple(int(slot) for slot in rows["slot"][here])

    @property
    def starving(self) -> bool:
        """True if a load that is wanted stands below the voltage it needs."""
        return bool(starving(self.problem, self.solution)[self.step, self.column])


def starving(problem: Problem, solution: Solution) -> BoolArray:
    """At which steps and key states a load that is wanted is given up or stands below the voltage
    it needs."""
    found = solution.outcome == Outcome.GAVE_UP
    volts = solution.volts
    for data in problem.main:
        model = data.slot.device.model
        if model.powered is None or not model.demand:
            continue
        wanted = data.drives[data.shape.d_fields.index(model.demand)] > 0.0
        node = data.slot.nodes[data.shape.v_fields.index(model.powered[0])]
        short = volts[:, :, node] < float(data.values[model.powered[1]])
        found |= wanted[:, None] & short
    return found


def drawn(number: int) -> Station:
    """Half of them meshes, a quarter stars, a quarter batteries that chatter at their floor."""
    if number % 2 == 1:
        return wider_station(number, STEPS, STEP_S)
    if number % 4 == 0:
        return random_station(5000 + number, STEPS, STEP_S)
    return chattering_station(5000 + number, STEPS, STEP_S)


@lru_cache(maxsize=8)
def case(number: int) -> Case:
    """The station of that number, solved, and an instant drawn by lot.

    Two out of three are drawn from the instants at which nobody starves, if there are any: left
    to itself the lot would give more dead stations than live ones.
    """
    problem = problem_of(drawn(number), STEP_S)
    solution = solve_compiled(problem)
    possible = solution.outcome != Outcome.SKIPPED
    fed = possible & ~starving(problem, solution)
    if number % 3 != 0 and fed.any():
        possible = fed
    steps, columns = np.nonzero(possible)
    drawn_one = int(np.random.default_rng([number, 11]).integers(len(steps)))
    return Case(number, problem, solution, int(steps[drawn_one]), int(columns[drawn_one]))
