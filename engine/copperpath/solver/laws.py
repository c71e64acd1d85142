"""Laws in array form: currents, heat and store of every device over a finished solution."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.solution import Solution


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
    right = np.clip(np.sum(volts[:, None, :] < floor[:, :, None], axis=2), 1, OFFER_POINTS - 1)
    rows = np.arange(len(points))[:, None]
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


def flows(problem: Problem, solution: Solution) -> dict[str, DeviceFlow]:
    """Every device with a law, main circuit and zones, by name."""
    found: dict[str, DeviceFlow] = {}
    first = radio = 0
    for data in problem.main:
        count = len(data.states)
        states = [solution.states[:-1, first + k, None] for k in range(count)]
        first += count
        levels = None
        if data.level_at >= 0:
            levels = problem.columns.levels[:, :, radio]
            radio += 1
        flow = _main_flow(problem, solution, data, states, levels)
        found[flow.name] = flow
    for slots, volts in zip(problem.zones, solution.zone_volts, strict=True):
        for data in slots:
            flow = _flow(data, volts, [], _drives(data, None), None, None)
            found[flow.name] = flow
    return found


def seek_watts(
    problem: Problem, volts: FloatArray, states: FloatArray, points: FloatArray, zone: int
) -> FloatArray:
    """Watts (time, column) that the controller of a zone takes, by its law at the final volts.

    The loop's own figure is one iteration older, and a picovolt at a controller's set point is
    worth a nanowatt.
    """
    first = 0
    for data in problem.main:
        count = len(data.states)
        if data.slot.seeks == zone:
            held = [states[:-1, first + k, None] for k in range(count)]
            drives = _drives(data, None)
            nodes = [volts[:, :, node] for node in data.slot.nodes]
            drives[-1] = offer_drive(data, nodes, held, drives, points[:, zone])
            returned = data.slot.device.model.law(*law_inputs(data, nodes, held, drives))
            return np.ascontiguousarray(
                np.broadcast_to(returned[data.shape.seek_place], volts.shape[:2])
            )
        first += count
    raise LookupError(f"no controller seeks in zone {zone}")


def _drives(data: SlotData, levels: FloatArray | None) -> list[Any]:
    drives: list[Any] = [row[:, None] for row in data.drives]
    if levels is not None:
        drives[data.level_at] = levels
    return drives


def _main_flow(
    problem: Problem,
    solution: Solution,
    data: SlotData,
    states: list[Any],
    levels: FloatArray | None,
) -> DeviceFlow:
    drives = _drives(data, levels)
    zone = data.slot.seeks
    if zone < 0:
        return _flow(data, solution.volts, states, drives, None, None)
    volts = [solution.volts[:, :, node] for node in data.slot.nodes]
    drives[-1] = offer_drive(data, volts, states, drives, solution.points[:, zone])
    port = problem.network.zones[zone].port
    return _flow(data, solution.volts, states, drives, solution.zone_volts[zone][:, :, port], zone)


def _flow(
    data: SlotData,
    node_volts: FloatArray,
    states: list[Any],
    drives: list[Any],
    port_volts: FloatArray | None,
    zone: int | None,
) -> DeviceFlow:
    model, shape = data.slot.device.model, data.shape
    axes = node_volts.shape[:2]
    volts = [node_volts[:, :, node] for node in data.slot.nodes]
    v, x, d, p = law_inputs(data, volts, states, drives)
    returned = model.law(v, x, d, p)
    currents = tuple(np.broadcast_to(value, axes) for value in shape.currents(returned))
    watts = np.broadcast_to(returned[shape.seek_place], axes) if zone is not None else None
    nothing = np.zeros(axes)
    heat = nothing if model.heat is None else model.heat(v, returned, x, d, p)
    store = nothing if model.store is None else model.store(v, returned, x, d, p)
    return DeviceFlow(
        data.slot.device.name,
        tuple(volts),
        currents,
        port_volts,
        watts,
        np.broadcast_to(heat, axes),
        np.broadcast_to(store, axes),
    )
