"""Currents in the cables between panels and a tracking controller, at the panels' best."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.problem import Problem
from copperpath.solver.twin_newton import dense, solve
from copperpath.solver.twin_offers import ports_of, zone_inputs
from copperpath.study.corners import at_its_best


def panel_amps(problem: Problem, tables: FloatArray) -> dict[str, float]:
    """Amps in each cable of the panels' side, positive from start to end [A].

    Parameters
    ----------
    tables : ndarray (seeker, 2 * OFFER_POINTS)
        What each seeking terminal is offered; the first column is the best voltage.
    """
    found: dict[str, float] = {}
    for zone, (circuit, slots) in enumerate(zip(problem.network.zones, problem.zones, strict=True)):
        seekers = [k for k, (at, _) in enumerate(problem.network.seekers) if at == zone]
        best_v = float(tables[seekers[0], 0])
        matrix = dense(circuit, at_its_best(problem, slots))
        start = np.full((1, matrix.constant.shape[0]), best_v)
        inputs = zone_inputs(matrix.slots, np.array([0]))
        volts, solved = solve(matrix, start, inputs, held=ports_of(matrix))
        if solved[0]:
            for place, branch in enumerate(circuit.branches):
                if branch.is_cable:
                    found[branch.owner] = float(circuit.across(volts, place)[0]) / branch.ohm
    return found


def open_panel_volts(problem: Problem) -> dict[str, float]:
    """Volts at each terminal of the panels' side with nothing taken, at their brightest and
    coldest [V]."""
    found: dict[str, float] = {}
    for circuit, slots in zip(problem.network.zones, problem.zones, strict=True):
        matrix = dense(circuit, at_its_best(problem, slots))
        start = np.zeros((1, matrix.constant.shape[0]))
        volts, solved = solve(matrix, start, zone_inputs(matrix.slots, np.array([0])))
        if solved[0]:
            everywhere = circuit.spread_all(volts)[0]
            for node, name in enumerate(circuit.nodes):
                found[name] = max(float(everywhere[node]), 0.0)
    return found
