"""A stretch of time as one netlist: the simulator's own clock in place of our steps.

For comparing whole runs, in result and in time taken. An accumulator or a lag becomes the voltage
of a capacitor. Inputs run on straight lines between the middles of our steps. What decides by
jumps is taken from our run as an input over time: the positions of latches, and the most power
that panels offer. The mean of the key states is taken, so a station whose battery is charged or
not according to the key comes out better here than in a run, which weights the key states.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np

from copperpath.netlist.circuit_lines import (
    Names,
    branch_lines,
    continued,
    make_names,
    node_lines,
    remark,
)
from copperpath.netlist.expression import CannotBeWritten, Part, as_part, chosen, formula, volts
from copperpath.netlist.operating_point import heading
from copperpath.netlist.trace import about, offer_at_solution
from copperpath.netlist.write_formula import FormulaWriter
from copperpath.plugin_api import Accumulator, FloatArray, Lag, Latch, State
from copperpath.solver.laws import law_inputs
from copperpath.solver.moment import drives_at
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.solution import Solution

LATCH_S = 1.0
"""Time in which a latch goes over [s]."""
FARAD = 1e3
"""Capacitor behind a state: a share of charge or a kelvin is a volt, and the currents that move
it, a hundred-thousandth of that a second, stand well clear of the simulator's rounding."""

NODE_FARAD = 1e-2
"""Capacitor at every node [F]. Real ones have as much; without it a simulator has nothing to go
by where two corners of laws face each other. A volt fills it with a few millionths of a small
battery's charge."""

Corners: TypeAlias = list[tuple[float, float]]

OPTIONS = ".options reltol=1e-6 vntol=1e-9 abstol=1e-9 gmin=1e-18 itl1=1000 itl4=200 method=gear"


@dataclass(frozen=True, slots=True)
class Transient:
    """The text; names of the main part; nodes of the states, by device and state."""

    text: str
    main: Names
    states: dict[tuple[str, str], str]


def transient(problem: Problem, solution: Solution, *, steps: int | None = None) -> Transient:
    """A netlist that follows the main part from the start of a run.

    Parameters
    ----------
    problem, solution
        What was solved, and how: the offers of panels are taken from it, and the start.
    steps : int, optional
        How many of our steps; all of them if not given.

    Raises
    ------
    CannotBeWritten
        If a law does what no formula can say.
    """
    count = problem.steps if steps is None else min(steps, problem.steps)
    column = problem.columns.mean
    circuit = problem.network.main
    names = make_names(circuit, "", [False] * len(problem.main))
    lines = heading(problem, 0, column)
    lines += remark(f"{count} steps from then on in one stretch, on the simulator's own clock")
    start = solution.volts[0, column]
    # A search that begins with all capacitors charged takes `.ic` where `.op` takes `.nodeset`.
    lines += [line.replace(".nodeset", ".ic") for line in node_lines(circuit, names, start)]
    for node, value in zip(names.nodes, start, strict=True):
        lines.append(f"cnode{node} {node} 0 {NODE_FARAD:g} ic={float(value)!r}")
    lines += branch_lines(circuit, names)
    inputs = _inputs(problem, solution, count)
    states: dict[tuple[str, str], str] = {}
    first = 0
    for slot, data in enumerate(problem.main):
        past = solution.states[:count, first : first + len(data.states)].T
        first += len(data.states)
        part, found = _device_lines(problem, data, slot, names, inputs[slot], past)
        lines += part
        states |= found
    length, step_s = float(problem.dt_s[:count].sum()), problem.site.step_s
    lines += [OPTIONS, f".tran {step_s:.12g} {length:.12g} 0 {step_s:.12g} uic", ".end"]
    return Transient("\n".join(lines) + "\n", names, states)


def _inputs(problem: Problem, solution: Solution, count: int) -> list[FloatArray]:
    """Inputs of each slot over time (drive, time), key state and offer filled in."""
    column = problem.columns.mean
    found = [np.zeros((len(data.shape.d_fields), count)) for data in problem.main]
    for step in range(count):
        for slot, drives in enumerate(drives_at(problem, step, column)):
            if problem.main[slot].slot.seeks >= 0:
                drives[-1] = offer_at_solution(problem, solution, step, column, slot)
            found[slot][:, step] = drives
    return found


def _device_lines(
    problem: Problem,
    data: SlotData,
    slot: int,
    names: Names,
    inputs: FloatArray,
    past: FloatArray,
) -> tuple[list[str], dict[tuple[str, str], str]]:
    """A device: its inputs, what it remembers, and its currents."""
    device = data.slot.device
    begins = problem.site.time_s - problem.site.time_s[0]
    middles = problem.site.middle_s - problem.site.time_s[0]
    lines = remark(f"{device.kind} {device.name} ({device.model.name})")
    drives: list[Part] = []
    for place, (name, values) in enumerate(zip(data.shape.d_fields, inputs, strict=True)):
        node = f"d{slot + 1}i{place + 1}"
        part, drive = _input(node, f"{name.rstrip('_')} of {device.name}", _slopes(values, middles))
        lines += part
        drives.append(drive)
    held: list[Part] = []
    moving: dict[tuple[str, str], str] = {}
    for place, (state, values) in enumerate(zip(data.states, past, strict=True)):
        node, words = f"d{slot + 1}s{place + 1}", f"{state.name} of {device.name}"
        if isinstance(state, Latch):
            part, latch = _input(node, words, _stairs(values, begins))
            lines += part
            held.append(latch)
        else:
            held.append(volts(node))
            moving[device.name, state.name] = node
    writer = FormulaWriter(f"d{slot + 1}")
    nodes = [names.nodes[node] for node in data.slot.nodes]
    try:
        signals, currents = _traced(data, nodes, held, drives)
        texts = [writer.text(current) for current in currents]
        moved = _state_lines(data, moving, past, signals, writer)
    except CannotBeWritten as trouble:
        raise about(data, trouble) from trouble
    for name, text in writer.lines:
        lines += continued(f"b{name} {name} 0 v = {text}")
    lines += moved
    for source, node, text in zip(names.sources[slot], nodes, texts, strict=True):
        lines += continued(f"{source} {node} 0 i = {text}")
    return lines, moving


def _input(node: str, words: str, corners: Corners) -> tuple[list[str], Part]:
    """The lines of an input over time, and the formula that reads it; a number if it is one."""
    if len({value for _, value in corners}) == 1:
        return [], corners[0][1]
    pairs = " ".join(f"{at:.12g} {value!r}" for at, value in corners)
    return [
        *remark(f"{node} = {words}, a volt for one"),
        *continued(f"v{node} {node} 0 pwl({pairs})"),
    ], volts(node)


def _traced(
    data: SlotData, nodes: list[str], states: list[Part], drives: list[Part]
) -> tuple[list[Part], list[Part]]:
    """Signals of the states, and currents, as formulas of nodes."""
    model, given = data.slot.device.model, [volts(node) for node in nodes]
    with np.errstate(all="ignore"):
        v, x, d, p = law_inputs(data, given, states, drives)
        returned: Any = model.law(v, x, d, p)
        signals = [] if model.watch is None else list(model.watch(v, returned, x, d, p))
        return [as_part(s) for s in signals], [as_part(i) for i in data.shape.currents(returned)]


def _state_lines(
    data: SlotData,
    moving: dict[tuple[str, str], str],
    past: FloatArray,
    signals: list[Part],
    writer: FormulaWriter,
) -> list[str]:
    """Each accumulator and lag as a capacitor and the current that moves it."""
    lines: list[str] = []
    left = iter(signals)
    for state, values in zip(data.states, past, strict=True):
        if isinstance(state, Latch):
            next(left), next(left)
            continue
        node, start = moving[data.slot.device.name, state.name], float(values[0])
        lines += remark(f"{node} = {state.name} of {data.slot.device.name}, a volt for one")
        signal = next(left)
        tau = float(data.values[state.tau]) if isinstance(state, Lag) else 1.0
        if tau == 0.0:
            lines += continued(f"b{node} {node} 0 v = {writer.text(signal)}")
            continue
        moved = formula("*", FARAD, _rate(state, volts(node), signal, tau))
        lines += [f"c{node} {node} 0 {FARAD:g} ic={start!r}", f".ic v({node})={start!r}"]
        lines += continued(f"b{node} 0 {node} i = {writer.text(moved)}")
    return lines


def _rate(state: State, value: Part, signal: Part, tau: float) -> Part:
    """How fast an accumulator or a lag changes [1/s]."""
    if isinstance(state, Accumulator):
        full = formula("&", formula(">=", value, state.high), formula(">", signal, 0.0))
        bare = formula("&", formula("<=", value, state.low), formula("<", signal, 0.0))
        return chosen(formula("|", full, bare), 0.0, signal)
    return formula("/", formula("-", signal, value), tau)


def _slopes(values: FloatArray, middles: FloatArray) -> Corners:
    """Corners (time, value) of an input that has its values at the middles of the steps and runs
    straight between them; those on a straight line with their neighbours are left out."""
    times = middles[: len(values)]
    keep = np.ones(len(values), dtype=bool)
    keep[1:-1] = np.diff(np.diff(values) / np.diff(times)) != 0.0
    corners = zip(times[keep].tolist(), values[keep].tolist(), strict=True)
    return [(0.0, float(values[0])), *corners]


def _stairs(values: FloatArray, begins: FloatArray) -> Corners:
    """Corners (time, value) of a latch that goes over when a step begins."""
    corners = [(0.0, float(values[0]))]
    for step in np.flatnonzero(np.diff(values)) + 1:
        before, after = float(values[step - 1]), float(values[step])
        at = float(begins[step])
        corners += [(at, before), (at + LATCH_S, after)]
    return corners
