"""The netlist of one operating point: a problem, its solution, a step and a column.

The main part and the zones behind tracking controllers stand side by side, as they are solved:
a controller gets what its panels offer as a number, and the port of its zone is held at the
voltage that was found.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime

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
from copperpath.netlist.trace import offer_at_solution
from copperpath.solver.moment import drives_at, states_at
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Solution

CAUTION = (
    "This is arithmetic, not permission. Batteries and cables can start fires, lithium cells are "
    "ruined by charging in the cold, engine fumes kill: local codes and licensed practice decide."
)
"""The same words as at the end of a run's screen."""

OPTIONS = (
    # No part here is a transistor or a diode of the simulator's own, so gmin touches nothing.
    ".options reltol=1e-9 vntol=1e-11 abstol=1e-11 gmin=1e-18 itl1=1000 savecurrents",
)


@dataclass(frozen=True, slots=True)
class Netlist:
    """The text, and what it calls the things of the main part and of each zone."""

    text: str
    main: Names
    zones: tuple[Names, ...]


def operating_point(
    problem: Problem,
    solution: Solution,
    step: int,
    column: int,
    *,
    opened: Collection[int] | None = None,
) -> Netlist:
    """The circuit at one step and key state as it stands in the solution.

    Parameters
    ----------
    problem, solution
        What was solved, and how.
    step, column : int
        Which instant and which key state.
    opened : collection of int, optional
        Slots of the main part that are taken off the circuit at this step; the loads that were
        given up, if None.

    Raises
    ------
    CannotBeWritten
        If a law does what no formula can say.
    """
    network = problem.network
    if opened is None:
        rows = solution.refusals
        opened = rows["slot"][(rows["step"] == step) & (rows["column"] == column)].tolist()
    flags = [slot in opened for slot in range(len(problem.main))]
    main = make_names(network.main, "", flags)
    lines = heading(problem, step, column)
    lines += remark("==== the main part ====")
    lines += node_lines(network.main, main, solution.volts[step, column])
    lines += branch_lines(network.main, main)
    inputs = main_inputs(problem, solution, step, column, flags)
    lines += slot_lines(network.main, problem.main, main, inputs)
    zones = []
    for index in range(len(network.zones)):
        names, part = zone_lines(problem, solution, step, column, index)
        zones.append(names)
        lines += part
    lines += [*OPTIONS, ".op", ".end"]
    return Netlist("\n".join(lines) + "\n", main, tuple(zones))


def main_inputs(
    problem: Problem, solution: Solution, step: int, column: int, opened: list[bool]
) -> list[SlotInput]:
    """What each device of the main part is given; a controller gets its offer as a number."""
    states, drives = states_at(problem, solution, step), drives_at(problem, step, column)
    for slot, data in enumerate(problem.main):
        if data.slot.seeks >= 0:
            drives[slot][-1] = offer_at_solution(problem, solution, step, column, slot)
    return [SlotInput(*each) for each in zip(states, drives, opened, strict=True)]


def zone_lines(
    problem: Problem, solution: Solution, step: int, column: int, index: int
) -> tuple[Names, list[str]]:
    """What lies behind a seeking terminal, its port held where it was found."""
    circuit, slots = problem.network.zones[index], problem.zones[index]
    volts = solution.zone_volts[index][step, column]
    seekers = [k for k, (zone, _) in enumerate(problem.network.seekers) if zone == index]
    devices = [d.slot.device.name for d in problem.main if d.slot.seeks in seekers]
    names = make_names(circuit, f"z{index + 1}", [False] * len(slots))
    dark = solution.tops[index][step] == 0.0
    if dark:
        names = replace(names, ports=())
    lines = remark(f"==== behind {' and '.join(devices)}, solved apart ====")
    lines += node_lines(circuit, names, volts)
    lines += branch_lines(circuit, names)
    given = [SlotInput(np.zeros(0), data.drives[:, step]) for data in slots]
    lines += slot_lines(circuit, slots, names, given)
    if dark:
        lines += remark("it is dark: nothing is taken here")
        return names, lines
    for device, seeker in zip(devices, seekers, strict=True):
        watts = solution.watts[step, column, seeker]
        lines += remark(f"{device} takes {watts:.6g} W here, held at the voltage that was found")
    for source, port in zip(names.ports, circuit.ports, strict=True):
        lines.append(f"{source} {names.nodes[port]} 0 {float(volts[port])!r}")
    return names, lines


def heading(problem: Problem, step: int, column: int) -> list[str]:
    """The first line is a netlist's title; what the file is, when, and in which key state."""
    settings = problem.station.site
    moment = datetime.fromtimestamp(problem.site.time_s[step], settings.starts.tzinfo)
    lines = remark(f"copperpath: {problem.station.title}")[:1]
    lines += remark(
        f"The step of {float(problem.dt_s[step]):g} s from {moment:%Y-%m-%d %H:%M:%S %z} on"
    )
    lines += remark(column_words(problem, step, column))
    lines += remark(
        "Node 0 stands for every return conductor: a voltage is between the two conductors. "
        "Volts, amperes, ohms; a current is positive into a device."
    )
    return lines + remark(CAUTION)


def column_words(problem: Problem, step: int, column: int) -> str:
    """A key state in words: the mean, the worst instant, or the level of each radio."""
    columns = problem.columns
    radios = [data.slot.device.name for data in problem.main if data.level_at >= 0]
    if not radios:
        return "No radio is keyed"
    levels = ", ".join(
        f"{name} {level:.4g}"
        for name, level in zip(radios, columns.levels[step, column], strict=True)
    )
    kind = "Key state"
    if column == columns.mean:
        kind = "Mean of the key states"
    elif column == columns.worst:
        kind = "Worst instant, every radio that is on keyed"
    return f"{kind} (0 receiving, 1 fully keyed): {levels}"
