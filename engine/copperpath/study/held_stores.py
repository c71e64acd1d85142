"""The main circuit with its stores held at their rest voltage: what flows into them then.

Loads are off, what gives is awake, everything that remembers stands as at the start. Nothing
here runs over time: each point is one solve.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.network.circuit import Network
from copperpath.plugin_api import Accumulator, FloatArray, Latch
from copperpath.record.run import main_terminal
from copperpath.solver.laws import law_inputs, offers_at
from copperpath.solver.problem import SlotData
from copperpath.solver.twin_newton import DenseCircuit, Inputs, assemble, dense, evaluate, solve
from copperpath.solver.twin_newton import volts_at as slot_volts

HELD_CHARGE = 0.7
"""Charge at which stores are held: below where charging is cut back, above where it is empty."""

HALVINGS = 60


@dataclass(frozen=True, slots=True)
class HeldStores:
    """The circuit, the states of each slot, and of each store its slot, node and volts."""

    circuit: DenseCircuit
    states: tuple[list[float], ...]
    slots: tuple[int, ...]
    nodes: tuple[int, ...]
    volts: tuple[float, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the stores."""
        return tuple(self.circuit.slots[slot].slot.device.name for slot in self.slots)


def hold_stores(network: Network, main: tuple[SlotData, ...]) -> HeldStores:
    """Prepare a network whose main slots are `main`."""
    circuit = dense(network.main, main)
    states = tuple(_states(data) for data in main)
    slots, nodes, volts = [], [], []
    for place, data in enumerate(main):
        device = data.slot.device
        if device.kind != "storage":
            continue
        node = data.slot.kept[data.shape.v_fields.index(main_terminal(device))]
        slots.append(place)
        nodes.append(node)
        volts.append(_rest_volts(data, states[place], float(circuit.start_v[node])))
    return HeldStores(circuit, states, tuple(slots), tuple(nodes), tuple(volts))


def inflows(held: HeldStores, drives: list[FloatArray], tables: list[FloatArray]) -> FloatArray:
    """Amps into each store (store, point) from all that hangs on it; NaN where none was found.

    Parameters
    ----------
    drives : list of ndarray (drive, point)
        Of each slot of the main circuit.
    tables : list of ndarray (point, 2 * OFFER_POINTS)
        What each seeking terminal is offered.
    """
    circuit = held.circuit

    def offer(slot: int, v: Any, x: Any, d: Any, p: Any) -> Any:
        data = circuit.slots[slot]
        floor = data.slot.device.model.floor(v, x, d._replace(offer=0.0), p)
        table = tables[data.slot.seeks]
        column = np.broadcast_to(np.asarray(floor), (len(table),))[:, None]
        return offers_at(table, column)[:, 0]

    points = drives[0].shape[1]
    inputs = Inputs(
        [[np.full(points, value) for value in row] for row in held.states],
        [list(rows) for rows in drives],
        offer,
    )
    start = np.tile(circuit.start_v, (points, 1))
    start[:, list(held.nodes)] = held.volts
    volts, found = solve(circuit, start, inputs, held=held.nodes)
    if not found.all():
        # Once more from the stores' own volts.
        start[:] = max(held.volts)
        start[:, list(held.nodes)] = held.volts
        again, well = solve(circuit, start, inputs, held=held.nodes)
        volts, found = np.where(found[:, None], volts, again), found | well
    rest, _ = assemble(circuit, volts, inputs)
    amps = np.zeros((len(held.slots), points))
    for row, (slot, node) in enumerate(zip(held.slots, held.nodes, strict=True)):
        data = circuit.slots[slot]
        returned = evaluate(circuit, slot, slot_volts(circuit, slot, volts, inputs), inputs)
        own = data.shape.currents(returned)[data.slot.kept.index(node)]
        amps[row] = own - rest[:, node]
    return np.where(found, amps, np.nan)


def _states(data: SlotData) -> list[float]:
    """States as at the start, stores at `HELD_CHARGE`, what gives awake."""
    values = [float(value) for value in data.initial]
    for place, state in enumerate(data.states):
        if isinstance(state, Accumulator) and state.carries_charge:
            values[place] = HELD_CHARGE
        elif isinstance(state, Latch) and state.giving:
            values[place] = 1.0
    return values


def _rest_volts(data: SlotData, states: list[float], starts_v: float) -> float:
    """Where a store neither takes nor gives: up to there it gives."""
    place = data.shape.v_fields.index(main_terminal(data.slot.device))
    drives = [float(row[0]) for row in data.drives]
    low, high = 0.0, 2.0 * starts_v
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        volts = [middle] * len(data.shape.v_fields)
        returned = data.slot.device.model.law(*law_inputs(data, volts, states, drives))
        if float(np.asarray(data.shape.currents(returned)[place])) < -1e-6:
            low = middle
        else:
            high = middle
    return high if high > 0.3 * starts_v else starts_v
