"""Laws in array form: currents, heat and store of every device over a finished solution."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.problem import Problem, SlotData, powered_load
from copperpath.solver.solution import Solution, refused_at


@dataclass(frozen=True, slots=True)
class DeviceFlow:
    """One device over time and columns.

    Attributes
    ----------
    volts, amps : tuple of ndarray (time, column)
        By terminal and inner node in the law's order, without a seeking terminal; amps positive
        into the device.
    port_volts, port_watts : ndarray (time, column) or None
        At a seeking terminal.
    heat, store : ndarray (time, column) [W]
        By the model's own formulas; 0 where it has none.
    """

    name: str
    volts: tuple[FloatArray, ...]
    amps: tuple[FloatArray, ...]
    port_volts: FloatArray | None
    port_watts: FloatArray | None
    heat: FloatArray
    store: FloatArray

    @property
    def taken(self) -> FloatArray:
        """Power into the device over all its terminals (time, column) [W]."""
        total = sum(v * i for v, i in zip(self.volts, self.amps, strict=True))
        return np.asarray(total + (0.0 if self.port_watts is None else self.port_watts))


def offers_at(points: FloatArray, floor: FloatArray) -> FloatArray:
    """Most power at or above `floor` (time, column) from tables (time, 2 * OFFER_POINTS)."""
    volts, powers = points[:, :OFFER_POINTS], points[:, OFFER_POINTS:]
    found = np.broadcast_to(powers[:, :1], floor.shape).copy()
    above = np.flatnonzero(~(floor <= volts[:, :1]).all(axis=1))
    found[above] = _above_best(volts[above], powers[above], floor[above])
    return found


def _above_best(volts: FloatArray, powers: FloatArray, floor: FloatArray) -> FloatArray:
    """The same for rows with a floor above the first voltage."""
    right = np.clip(np.sum(volts[:, None, :] < floor[:, :, None], axis=2), 1, OFFER_POINTS - 1)
    rows = np.arange(len(volts))[:, None]
    left_v, right_v = volts[rows, right - 1], volts[rows, right]
    left_w, right_w = powers[rows, right - 1], powers[rows, right]
    share = (floor - left_v) / np.maximum(right_v - left_v, 1e-12)
    return np.asarray(left_w + np.clip(share, 0.0, 1.0) * (right_w - left_w))


def law_inputs(data: SlotData, volts: list[Any], states: list[Any], drives: list[Any]) -> Any:
    """The four tuples of a law from lists of arrays."""
    shape = data.shape
    return (
        shape.v_type(*volts),
        shape.x_type(*states),
        shape.d_type(*drives),
        shape.p_type(*data.parameters),
    )


def offer_drive(
    data: SlotData, volts: list[Any], states: list[Any], drives: list[Any], points: FloatArray
) -> Any:
    """The offer at the floor that the controller declares."""
    v, x, d, p = law_inputs(data, volts, states, [*drives[:-1], 0.0])
    floor = np.asarray(data.slot.device.model.floor(v, x, d, p))
    return offers_at(points, floor)


def flow_of(problem: Problem, solution: Solution, name: str) -> DeviceFlow | None:
    """One device with a law, in the main circuit or a zone; None for others. Worked out anew at
    each call: a year of minutes of every device at once would not fit in memory."""
    first = radio = 0
    for place, data in enumerate(problem.main):
        count = len(data.states)
        if data.slot.device.name == name:
            states = [solution.states[:-1, first + k, None] for k in range(count)]
            levels = problem.columns.levels[:, :, radio] if data.level_at >= 0 else None
            return _main_flow(problem, solution, place, states, levels)
        first += count
        radio += data.level_at >= 0
    for slots, kept in zip(problem.zones, solution.zone_kept, strict=True):
        for data in slots:
            if data.slot.device.name == name:
                volts = [kept[:, :, node] for node in data.slot.kept]
                return _flow(data, volts, volts, [], _drives(data, None), None, None)
    return None


def seeking_at(
    problem: Problem, kept: FloatArray, states: FloatArray, points: FloatArray, seeker: int
) -> tuple[FloatArray, FloatArray]:
    """Offer and taken watts (time, column) of a seeking terminal, by its law at the final volts.

    The loop's own figure is one iteration older, and a picovolt at a controller's set point is
    worth a nanowatt.
    """
    first = 0
    for data in problem.main:
        count = len(data.states)
        if data.slot.seeks == seeker:
            held = [states[:-1, first + k, None] for k in range(count)]
            drives = _drives(data, None)
            nodes = [kept[:, :, node] for node in data.slot.kept]
            offer = offer_drive(data, nodes, held, drives, points[:, seeker])
            drives[-1] = offer
            returned = data.slot.device.model.law(*law_inputs(data, nodes, held, drives))
            axes = kept.shape[:2]
            return (
                np.broadcast_to(offer, axes),
                np.broadcast_to(returned[data.shape.seek_place], axes),
            )
        first += count
    raise LookupError(f"nobody has the seeking terminal {seeker}")


def _drives(data: SlotData, levels: FloatArray | None) -> list[Any]:
    drives: list[Any] = [row[:, None] for row in data.drives]
    if levels is not None:
        drives[data.level_at] = levels
    return drives


def _main_flow(
    problem: Problem,
    solution: Solution,
    place: int,
    states: list[Any],
    levels: FloatArray | None,
) -> DeviceFlow:
    data = problem.main[place]
    drives = _drives(data, levels)
    volts = [solution.kept[:, :, node] for node in data.slot.kept]
    seeker = data.slot.seeks
    if seeker >= 0:
        drives[-1] = solution.offers[:, :, seeker]
        index, port = problem.network.seekers[seeker]
        zone = problem.network.zones[index]
        port_volts = zone.spread(solution.zone_kept[index], zone.ports[port])
        return _flow(data, volts, volts, states, drives, port_volts, solution.watts[:, :, seeker])
    step, column, asked = refused_at(solution, place)
    if len(step) == 0:
        return _flow(data, volts, volts, states, drives, None, None)
    # A load that was given up takes nothing; what it stood at before is what it is told by.
    at_none, at_asked = [volt.copy() for volt in volts], [volt.copy() for volt in volts]
    for volt in at_none:
        volt[step, column] = 0.0
    judged = data.slot.kept.index(_judged_node(data))
    at_asked[judged][step, column] = asked
    return _flow(data, at_none, at_asked, states, drives, None, None)


def _judged_node(data: SlotData) -> int:
    load = powered_load(data)
    assert load is not None
    return load.node


def _flow(
    data: SlotData,
    volts: list[FloatArray],
    shown: list[FloatArray],
    states: list[Any],
    drives: list[Any],
    port_volts: FloatArray | None,
    port_watts: FloatArray | None,
) -> DeviceFlow:
    """A device's law at `volts`, told with the volts `shown`."""
    model, shape = data.slot.device.model, data.shape
    axes = volts[0].shape
    v, x, d, p = law_inputs(data, volts, states, drives)
    returned = model.law(v, x, d, p)
    currents = tuple(np.broadcast_to(value, axes) for value in shape.currents(returned))
    nothing = np.zeros(axes)
    heat = nothing if model.heat is None else model.heat(v, returned, x, d, p)
    store = nothing if model.store is None else model.store(v, returned, x, d, p)
    return DeviceFlow(
        data.slot.device.name,
        tuple(shown),
        currents,
        port_volts,
        port_watts,
        np.broadcast_to(heat, axes),
        np.broadcast_to(store, axes),
    )
