"""What was asked, and the most that could be had, where a load had to be given up.

Found after the run, at the first step and key state of each load: the network is solved again
without it, its terminal held at one voltage after another.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from copperpath.finding import Finding
from copperpath.plugin_api import FloatArray
from copperpath.record.figures import powered_steps
from copperpath.record.run import Run
from copperpath.record.times import day_and_time
from copperpath.solver.laws import law_inputs, offers_at
from copperpath.solver.moment import drives_at, states_at
from copperpath.solver.problem import PoweredLoad, SlotData, cut, powered_load
from copperpath.solver.solution import Outcome, refused_at
from copperpath.solver.twin_newton import Inputs, assemble, dense, search
from copperpath.solver.twin_offers import tables_at
from copperpath_grammar.diagnostics import Level

TRIED = 60
"""Voltages between the least one and the open line's at which the most power is looked for, twice:
over all of the range, and again around the best."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """One load that was given up.

    Attributes
    ----------
    load : str
    step, column : int
        Where it was first given up.
    asked_w : float
        What it takes at its least voltage [W].
    lowest_v : float
        That voltage [V].
    most_w, most_v : float
        The most that could be had at its terminals at or above its least voltage [W], and where.
    seconds : float
        For how long in all it is wanted and short, if only when keyed [s].
    only_keyed : bool
        True if it was given up in the worst instant alone, never in the mean.
    """

    load: str
    step: int
    column: int
    asked_w: float
    lowest_v: float
    most_w: float
    most_v: float
    seconds: float
    only_keyed: bool


def shortfalls(run: Run) -> list[Shortfall]:
    """Every load that was given up, in the order of the station."""
    found = []
    tables: dict[int, FloatArray] = {}
    for slot, data in enumerate(run.problem.main):
        load = powered_load(data)
        if load is None:
            continue
        steps, columns, _ = refused_at(run.solution, slot)
        if len(steps) and not _carried(run, data):
            found.append(_shortfall(run, slot, load, steps, columns, tables))
    return found


def _shortfall(
    run: Run,
    slot: int,
    load: PoweredLoad,
    steps: np.ndarray,
    columns: np.ndarray,
    tables: dict[int, FloatArray],
) -> Shortfall:
    mean, worst = run.problem.columns.mean, run.problem.columns.worst
    first = int(np.lexsort((columns != worst, steps))[0])
    step, column = int(steps[first]), int(columns[first])
    if step not in tables:
        here = cut(run.problem, slice(step, step + 1))
        tables[step] = tables_at(here, here.zones)
    inputs = _inputs(run, step, column, tables[step])
    most_w, most_v = _most(run, slot, load, inputs, step, column)
    in_mean = bool((columns == mean).any())
    return Shortfall(
        run.problem.main[slot].slot.device.name,
        step,
        column,
        _asked_w(run.problem.main[slot], load, inputs, slot),
        load.lowest_v,
        most_w,
        most_v,
        _short_s(run, slot),
        not in_mean,
    )


def _carried(run: Run, data: SlotData) -> bool:
    """True for a load with a battery of its own that lasted whenever the supply did not."""
    steps = powered_steps(run, data.slot.device)
    bridged = data.slot.device.model.bridged is not None
    return bridged and steps is not None and not (steps[0] & ~steps[1]).any()


def _short_s(run: Run, slot: int) -> float:
    steps = powered_steps(run, run.problem.main[slot].slot.device)
    return 0.0 if steps is None else run.seconds(steps[0] & ~steps[1])


def _inputs(run: Run, step: int, column: int, tables: FloatArray) -> Inputs:
    """States and drives by slot at one step and column, the offers at any floor from the tables
    (seeker, 2 * OFFER_POINTS) of that step, and what else was given up then."""
    problem, solution = run.problem, run.solution
    opened = np.zeros((1, len(problem.main)), dtype=bool)
    rows = solution.refusals
    opened[0, rows["slot"][(rows["step"] == step) & (rows["column"] == column)]] = True

    def offer(slot: int, v: object, x: object, d: object, p: object) -> FloatArray:
        seeker = problem.main[slot].slot.seeks
        model: Any = problem.main[slot].slot.device.model
        floor = np.atleast_1d(model.floor(v, x, d, p))
        return np.asarray(offers_at(tables[seeker][None], floor[None])[0])

    states = [list(row) for row in states_at(problem, solution, step)]
    drives = [list(row) for row in drives_at(problem, step, column)]
    return Inputs(states, drives, offer, opened)


def _asked_w(data: SlotData, load: PoweredLoad, inputs: Inputs, slot: int) -> float:
    """Power the load takes at its least voltage [W]."""
    volts = [load.lowest_v] * len(data.slot.kept)
    v, x, d, p = law_inputs(data, volts, inputs.states[slot], inputs.drives[slot])
    returned = data.shape.currents(data.slot.device.model.law(v, x, d, p))
    return float(sum(volt * amps for volt, amps in zip(volts, returned, strict=True)))


def _most(
    run: Run, slot: int, load: PoweredLoad, inputs: Inputs, step: int, column: int
) -> tuple[float, float]:
    """The most power to be had at the load's terminals with it open, at or above its least
    voltage [W], and at which voltage [V]."""
    open_v = float(run.solution.kept[step, column, load.node])
    if not open_v > load.lowest_v:
        return 0.0, load.lowest_v
    low, high = load.lowest_v, open_v
    best_w, best_v = 0.0, low
    for _ in range(2):
        tried = np.linspace(low, high, TRIED)
        watts = _power_out(run, load.node, inputs, step, column, tried)
        if not np.isfinite(watts).any():
            return best_w, best_v
        place = int(np.nanargmax(watts))
        if watts[place] > best_w:
            best_w, best_v = float(watts[place]), float(tried[place])
        width = (high - low) / (TRIED - 1)
        low, high = max(low, tried[place] - width), min(high, tried[place] + width)
    return best_w, best_v


def _power_out(
    run: Run, node: int, inputs: Inputs, step: int, column: int, held_v: FloatArray
) -> FloatArray:
    """Power out of a node held at each of these voltages [W], NaN where no point was found."""
    circuit = dense(run.problem.network.main, run.problem.main)
    count = len(held_v)
    assert inputs.opened is not None
    many = replace(inputs, opened=np.repeat(inputs.opened, count, axis=0))
    start = np.repeat(run.solution.kept[step, column][None], count, axis=0)
    start[:, node] = held_v
    volts, turns = search(circuit, start, many, held=(node,))
    volts[:, node] = held_v
    rest, _ = assemble(circuit, volts, many)
    return np.where(turns > 0, -held_v * rest[:, node], np.nan)


def findings(run: Run) -> list[Finding]:
    """A load that asks more than can be had, and converters that stood below their window then."""
    found = []
    for each in shortfalls(run):
        device = run.problem.station.device(each.load)
        found.append(
            Finding(
                Level.FAIL,
                "asks-more-than-can-be-had",
                _words(run, each),
                each.load,
                device.span,
                _remedy(each),
            )
        )
    return found + _converters_below_window(run)


def _words(run: Run, each: Shortfall) -> str:
    when = day_and_time(run.when(each.step))
    keyed = " when keyed" if each.only_keyed else ""
    begin = f"`{each.load}` asks {each.asked_w:.3g} W at {each.lowest_v:.4g} V or more{keyed}"
    if each.most_w >= each.asked_w:
        # Not a want of power: the network as a whole has no point, or none was found.
        had = f"with it on no operating point was found, though {each.most_w:.3g} W could be had"
    elif each.most_w > 0.0:
        # To three digits the two may look alike.
        just = "just under " if f"{each.most_w:.3g}" == f"{each.asked_w:.3g}" else ""
        had = f"the most to be had there is {just}{each.most_w:.3g} W at {each.most_v:.4g} V"
    else:
        had = "nothing can be had there at that voltage"
    hours = each.seconds / 3600.0
    short = f"; it is short for {hours:.3g} h in all" if hours >= 0.01 else ""
    return f"{begin}, but {had} on {when}{short}"


def _remedy(each: Shortfall) -> str:
    if each.most_w >= each.asked_w:
        return "look for two supplies that hold one voltage on its line, or run shorter steps"
    if each.most_w > 0.0:
        return "a shorter or stouter line to it, or a load that asks less"
    return "more battery or sun, another load off, or a higher voltage at the feeding end"


def _converters_below_window(run: Run) -> list[Finding]:
    """Converters that stood below the least input they declare while a load was given up."""
    found: list[Finding] = []
    short = (run.solution.outcome == Outcome.GAVE_UP).any(axis=1)
    if not short.any():
        return found
    for device in run.problem.station.devices:
        if device.kind != "converter" or device.model.powered is None:
            continue
        terminal, parameter = device.model.powered
        needs = float(device.values[parameter])
        volts = run.worst(run.terminal_volts(device, terminal))
        below = short & (volts < needs)
        if below.any():
            step = int(np.argmax(below))
            found.append(
                Finding(
                    Level.WARN,
                    "converter-below-its-window",
                    f"`{device.name}` stands at {float(volts[step]):.2f} V on "
                    f"{day_and_time(run.when(step))} and needs {needs:.2f} V to work",
                    device.name,
                    device.span,
                    "a shorter or stouter lead to it, or a converter for lower input",
                )
            )
    return found
