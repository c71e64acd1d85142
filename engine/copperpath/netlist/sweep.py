"""What lies behind a tracking controller on its own, its port swept from voltage to voltage."""

from __future__ import annotations

import numpy as np

from copperpath.netlist.circuit_lines import (
    Names,
    SlotInput,
    branch_lines,
    make_names,
    node_lines,
    remark,
    slot_lines,
)
from copperpath.netlist.operating_point import OPTIONS, heading
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Solution


def port_sweep(
    problem: Problem,
    solution: Solution,
    step: int,
    zone: int,
    sweep: tuple[float, float, float],
) -> tuple[str, Names]:
    """A netlist that sweeps the one port of a zone, and what it calls things.

    Parameters
    ----------
    problem, solution
        What was solved, and how.
    step, zone : int
        Which instant, and which of the network's zones.
    sweep : tuple of float
        First and last voltage of the port and the step between two [V].

    Returns
    -------
    tuple of str and Names
        The power out of the port is the voltage of its node times the current of the source
        that holds it.
    """
    circuit, slots = problem.network.zones[zone], problem.zones[zone]
    names = make_names(circuit, f"z{zone + 1}", [False] * len(slots))
    column = problem.columns.mean
    lines = heading(problem, step, column)
    lines += remark(f"==== zone {zone + 1} by itself, its port swept ====")
    lines += node_lines(circuit, names, solution.zone_volts[zone][step, column])
    lines += branch_lines(circuit, names)
    given = [SlotInput(np.zeros(0), data.drives[:, step]) for data in slots]
    lines += slot_lines(circuit, slots, names, given)
    first, last, between = (f"{value:.12g}" for value in sweep)
    source = names.ports[0]
    lines.append(f"{source} {names.nodes[circuit.ports[0]]} 0 {first}")
    lines += [*OPTIONS, f".dc {source} {first} {last} {between}", ".end"]
    return "\n".join(lines) + "\n", names
