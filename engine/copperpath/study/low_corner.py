"""The low corner: every radio keyed, lowest planned charge, coldest cell, no sun; one solve."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import Lag
from copperpath.record.record import CornerFigure
from copperpath.record.run import charge_state
from copperpath.solver.laws import law_inputs
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.twin_newton import Inputs, dense, solve

ABOVE_FLOOR = 1e-3
"""Charge above the lowest planned one at which the corner stands, so that it still gives."""


def low_corner(problem: Problem) -> tuple[CornerFigure, ...]:
    """Voltage at every load and converter input in the low corner; empty if there is no store or
    no operating point."""
    if not any(device.kind == "storage" for device in problem.station.devices):
        return ()
    drives = [_drives(data) for data in problem.main]
    states = [_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
    inputs = Inputs(
        [[np.array([value]) for value in row] for row in states],
        [[np.array([value]) for value in row] for row in drives],
        lambda slot, v, x, d, p: np.zeros(1),
    )
    circuit = dense(problem.network.main, problem.main)
    start = np.full((1, len(problem.network.main.nodes)), problem.start_v)
    volts, found = solve(circuit, start, inputs)
    if not found[0]:
        return ()
    figures = []
    for data in problem.main:
        device = data.slot.device
        if device.kind != "load":
            continue
        powered = device.model.powered
        terminal = powered[0] if powered else data.shape.v_fields[0]
        node = data.slot.nodes[data.shape.v_fields.index(terminal)]
        needs = float(device.values[powered[1]]) if powered else None
        figures.append(CornerFigure(device.name, float(volts[0, node]), needs))
    return tuple(figures)


def _drives(data: SlotData) -> list[float]:
    """Demands and levels at their most, everything else (light, warmth) at its least."""
    model = data.slot.device.model
    row = []
    for name, values in zip(data.shape.d_fields, data.drives, strict=True):
        if name == "level":
            row.append(1.0)
        elif name == model.demand:
            row.append(float(values.max()))
        else:
            row.append(float(values.min()))
    return row


def _states(data: SlotData, drives: list[float]) -> list[float]:
    """States as they start, lags at their coldest, charge at the lowest planned."""
    device, model = data.slot.device, data.slot.device.model
    values: list[Any] = [float(value) for value in data.initial]
    for place, state in enumerate(data.states):
        if isinstance(state, Lag) and state.initial in model.drives:
            values[place] = drives[data.shape.d_fields.index(state.initial)]
    name = charge_state(device)
    if name is not None and model.lowest_planned is not None:
        volts = [0.0] * len(data.shape.v_fields)
        _, x, _, p = law_inputs(data, volts, values, drives)
        planned = float(model.lowest_planned(x, p)) + ABOVE_FLOOR
        place = [state.name for state in data.states].index(name)
        values[place] = min(planned, float(values[place]))
    return values
