"""What pictures show beside the traces: the account of power over time, reserves, what blocks."""

from __future__ import annotations

from functools import partial

import numpy as np

from copperpath.plugin_api import FloatArray, Latch
from copperpath.record.run import Run, charge_state
from copperpath.record.traces import MEAN, Maker, Traces
from copperpath.solver.laws import law_inputs
from copperpath.solver.problem import SlotData
from copperpath.station import Device

TERMS = ("sources", "loads", "cables", "converters", "storage_loss", "stored")
"""Of the account: sources = loads + cables + converters + storage_loss + stored (+ the leak)."""


def make_account(run: Run) -> Traces:
    """Each term of the first law over time, by name [W]."""

    def power(term: str) -> FloatArray:
        values: FloatArray = getattr(run.powers, term)
        return run.weighted(values)

    return Traces({term: ("W", partial(power, term), MEAN) for term in TERMS})


def make_marks(run: Run) -> Traces:
    """By name: `pack.reserve`, the charge at which its reserve is reached; `pack.cold`, 1 in the
    steps in which a store's latch of that name stands; `rig.wanted`, how much of a step a load is
    wanted."""
    makers: dict[str, tuple[str, Maker, str]] = {}
    for device in run.problem.station.devices:
        if device.kind == "storage":
            makers |= _of_store(run, device)
        if device.kind == "load" and device.model.powered and run.wanted(device) is not None:
            makers[f"{device.name}.wanted"] = ("", partial(_wanted, run, device), "of the step")
    return Traces(makers)


def lowest_planned(run: Run, data: SlotData, first: int) -> FloatArray:
    """Charge at which the reserve is reached, at each step's start and at the end (time + 1,)."""
    states = [run.solution.states[:, first + k] for k in range(len(data.states))]
    volts = [0.0] * len(data.shape.v_fields)
    _, x, _, p = law_inputs(data, volts, states, [0.0] * len(data.shape.d_fields))
    planned = data.slot.device.model.lowest_planned(x, p)
    return np.broadcast_to(planned, run.solution.states.shape[:1])


def _of_store(run: Run, device: Device) -> dict[str, tuple[str, Maker, str]]:
    made: dict[str, tuple[str, Maker, str]] = {}
    found = run.slot(device.name)
    if found is None:
        return made
    if device.model.lowest_planned is not None and charge_state(device) is not None:
        meaning = "share of rated charge, end of the step"
        made[f"{device.name}.reserve"] = ("", partial(_reserve, run, *found), meaning)
    told = {each.latch: each.cause for each in device.model.suspects if each.latch}
    for state in found[0].states:
        if isinstance(state, Latch) and state.name in told:
            maker = partial(_latch, run, device.name, state.name)
            made[f"{device.name}.{state.name}"] = ("", maker, told[state.name])
    return made


def _reserve(run: Run, data: SlotData, first: int) -> FloatArray:
    return lowest_planned(run, data, first)[1:]


def _latch(run: Run, device: str, state: str) -> FloatArray:
    values = run.state(device, state)
    assert values is not None
    return values[:-1]


def _wanted(run: Run, device: Device) -> FloatArray:
    values = run.wanted(device)
    assert values is not None
    return values
