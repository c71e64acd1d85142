"""A device's law at one step and key state, traced into one formula for each terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from copperpath.netlist.expression import CannotBeWritten, Part, as_part, volts
from copperpath.plugin_api import FloatArray
from copperpath.solver.laws import law_inputs
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.solution import Solution


def offer_at_solution(
    problem: Problem, solution: Solution, step: int, column: int, slot: int
) -> float:
    """The most power [W] that the zone of a seeking slot offers at the voltages found."""
    return float(solution.offers[step, column, problem.main[slot].slot.seeks])


def traced(
    data: SlotData,
    nodes: Sequence[str],
    states: FloatArray | Sequence[float],
    drives: FloatArray | Sequence[float],
) -> list[Part]:
    """Currents into the device [A] at its terminals, seeking ones left out, as formulas of the
    voltages of the netlist's nodes.

    Raises
    ------
    CannotBeWritten
        If the law does what no formula can say; the text names the device.
    """
    given: list[Any] = [volts(node) for node in nodes]
    try:
        # A law may divide by a parameter that is zero where it then does not use the result.
        with np.errstate(all="ignore"):
            v, x, d, p = law_inputs(data, given, list(states), list(drives))
            returned = data.slot.device.model.law(v, x, d, p)
            return [as_part(value) for value in data.shape.currents(returned)]
    except CannotBeWritten as problem:
        raise about(data, problem) from problem


def about(data: SlotData, problem: CannotBeWritten) -> CannotBeWritten:
    """The same problem with the device named."""
    device = data.slot.device
    return CannotBeWritten(f"`{device.name}` (model `{device.model.name}`): {problem}")
