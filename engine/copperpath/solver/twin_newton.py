"""The reference for the compiled iteration: the same rules on dense numpy arrays.

Assembly, elimination and damping are written apart from the compiled ones; only the models' laws
are shared. All columns of a step (or all points of a scan) are solved side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.network.circuit import Circuit
from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.solver.constants import (
    LEAK_S,
    MOST_ITERATIONS,
    MOST_SETTLING,
    ONE_VOLT_STEPS_TO_V,
    SETTLE_FROM_S,
    SETTLED_A,
    SLOPE_STEP,
)
from copperpath.solver.laws import law_inputs
from copperpath.solver.problem import SlotData

Offer = Callable[[int, Any, Any, Any, Any], Any]
"""(slot, v, x, d, p) to the offered watts, for slots with a seeking terminal."""


@dataclass(frozen=True, slots=True)
class DenseCircuit:
    """A circuit with its constant conductance matrix [S], and which branch (row) leaves (1) or
    enters (-1) which node (column)."""

    circuit: Circuit | None
    slots: tuple[SlotData, ...]
    constant: FloatArray
    incidence: FloatArray
    siemens: FloatArray
    order: np.ndarray
    start_v: FloatArray
    most_v: FloatArray
    """The most each node may move in a turn."""


def dense(circuit: Circuit, slots: tuple[SlotData, ...]) -> DenseCircuit:
    """Cables, links and leak as matrices."""
    merged = circuit.merged
    count = len(merged.nodes)
    incidence = np.zeros((len(merged.ohm), count))
    for row, (start, end) in enumerate(zip(merged.start, merged.end, strict=True)):
        incidence[row, start] += 1.0
        incidence[row, end] -= 1.0
    siemens = 1.0 / merged.ohm
    matrix = LEAK_S * np.eye(count) + incidence.T @ (siemens[:, None] * incidence)
    start_v = np.array(circuit.start_v, dtype=np.float64)
    return DenseCircuit(
        circuit,
        slots,
        matrix,
        incidence,
        siemens,
        circuit.elimination.order,
        start_v,
        np.maximum(1.0, start_v / ONE_VOLT_STEPS_TO_V),
    )


@dataclass(frozen=True, slots=True)
class Inputs:
    """States and drives by slot, each a list of floats or arrays (point,); `opened` (point, slot)
    tells which devices stand open."""

    states: list[list[Any]]
    drives: list[list[Any]]
    offer: Offer | None = None
    opened: BoolArray | None = None


def volts_at(dense: DenseCircuit, slot: int, v: FloatArray, inputs: Inputs) -> list[Any]:
    """Volts at a device's terminals (point,); none where it stands open."""
    volts = [v[:, node] for node in dense.slots[slot].slot.kept]
    if inputs.opened is None or not inputs.opened[:, slot].any():
        return volts
    return [np.where(inputs.opened[:, slot], 0.0, volt) for volt in volts]


def evaluate(dense: DenseCircuit, slot: int, volts: list[Any], inputs: Inputs) -> tuple[Any, ...]:
    """A slot's law as it returns it."""
    data = dense.slots[slot]
    v, x, d, p = law_inputs(data, volts, inputs.states[slot], inputs.drives[slot])
    if data.shape.seek_place >= 0:
        assert inputs.offer is not None
        offered = inputs.offer(slot, v, x, d, p)
        d = d._replace(offer=offered)
    returned: tuple[Any, ...] = data.slot.device.model.law(v, x, d, p)
    return returned


def assemble(
    dense: DenseCircuit, v: FloatArray, inputs: Inputs, slope_step: float = SLOPE_STEP
) -> tuple[FloatArray, FloatArray]:
    """Currents leaving the nodes (point, node) and their slopes (point, node, node)."""
    # Volts are subtracted before they are multiplied: the other way round, rounding would put
    # current into nodes that hardly carry any, as panels at dusk.
    rest = LEAK_S * v + ((v @ dense.incidence.T) * dense.siemens) @ dense.incidence
    slopes = np.broadcast_to(dense.constant, (len(v), *dense.constant.shape)).copy()
    for slot, data in enumerate(dense.slots):
        nodes = data.slot.kept
        volts = volts_at(dense, slot, v, inputs)
        shut = 1.0 if inputs.opened is None else np.where(inputs.opened[:, slot], 0.0, 1.0)
        here = data.shape.currents(evaluate(dense, slot, volts, inputs))
        for row, node in enumerate(nodes):
            rest[:, node] += shut * here[row]
        for column, node in enumerate(nodes):
            moved = list(volts)
            moved[column] = volts[column] + slope_step
            there = data.shape.currents(evaluate(dense, slot, moved, inputs))
            width = moved[column] - volts[column]
            for row, other in enumerate(nodes):
                slopes[:, other, node] += shut * (there[row] - here[row]) / width
    return rest, slopes


def eliminate(slopes: FloatArray, rest: FloatArray, order: np.ndarray) -> FloatArray:
    """Solve slopes · step = rest without exchanging rows, turned pivots mended."""
    a = slopes[:, order[:, None], order[None, :]]
    f = rest[:, order].copy()
    count = len(order)
    for k in range(count):
        pivot = a[:, k, k]
        pivot = np.where(pivot < 0.5 * LEAK_S, np.maximum(np.abs(pivot), 1e-3), pivot)
        a[:, k, k] = pivot
        factor = a[:, k + 1 :, k] / pivot[:, None]
        a[:, k + 1 :, k + 1 :] -= factor[:, :, None] * a[:, k, None, k + 1 :]
        f[:, k + 1 :] -= factor * f[:, k, None]
    step = np.zeros_like(f)
    for k in range(count - 1, -1, -1):
        known = np.einsum("pj,pj->p", a[:, k, k + 1 :], step[:, k + 1 :])
        step[:, k] = (f[:, k] - known) / a[:, k, k]
    out = np.empty_like(step)
    out[:, order] = step
    return out


def solve(
    dense: DenseCircuit, v: FloatArray, inputs: Inputs, held: Sequence[int] = ()
) -> tuple[FloatArray, BoolArray]:
    """Operating points (point, node) from the start `v`, and which of them were found.

    `held` are nodes whose voltages stay as they stand in `v`.
    """
    v, turns = search(dense, v, inputs, held)
    return v, turns > 0


def search(
    dense: DenseCircuit, v: FloatArray, inputs: Inputs, held: Sequence[int] = ()
) -> tuple[FloatArray, np.ndarray]:
    """As `solve`, with the turns it took in place of the yes (0 where no point was found)."""
    return search_with(_way_of(dense, inputs), v, held)


@dataclass(frozen=True, slots=True)
class Way:
    """How currents and slopes are put together and solved: what a search asks for in each turn.

    `assembled` is given the volts (point, node) and the step for the slopes, `eliminated` slopes
    and currents; `most_v` is the most each node may move in a turn.
    """

    assembled: Callable[[FloatArray, float], tuple[FloatArray, FloatArray]]
    eliminated: Callable[[FloatArray, FloatArray], FloatArray]
    most_v: FloatArray


def _way_of(dense: DenseCircuit, inputs: Inputs) -> Way:
    return Way(
        lambda v, slope_step: assemble(dense, v, inputs, slope_step),
        lambda slopes, rest: eliminate(slopes, rest, dense.order),
        dense.most_v,
    )


def search_with(way: Way, v: FloatArray, held: Sequence[int] = ()) -> tuple[FloatArray, np.ndarray]:
    """The search itself, by any way of assembling; see `search`."""
    v = v.copy()
    limit = np.tile(way.most_v, (len(v), 1))
    last, calm = np.zeros_like(v), np.zeros_like(v)
    going = np.ones(len(v), dtype=bool)
    turns = np.zeros(len(v), dtype=np.int64)
    before = np.full(len(v), 1e300)
    for turn in range(1, MOST_ITERATIONS + 1):
        rest, slopes = way.assembled(v, SLOPE_STEP if turn % 2 else -SLOPE_STEP)
        phase = turn % 36
        if phase == 0 or phase > 24:
            limit[:], last[:] = way.most_v, 0.0
            if phase == 0:
                calm[:] = 0.0
        if phase > 24:
            slopes += 3.0 * 4.0 ** (turn // 36) * np.eye(v.shape[1])
        for node in held:
            slopes[:, node, :] = 0.0
            slopes[:, node, node] = 1.0
            rest[:, node] = 0.0
        step = way.eliminated(slopes, rest)
        going &= np.isfinite(step).all(axis=1)
        step = np.where(going[:, None], step, 0.0)
        limit, last, calm = _damping(step, limit, last, calm, way.most_v)
        v -= np.clip(step, -limit, limit)
        largest = np.abs(step).max(axis=1)
        if phase <= 24:
            done = going & ((largest < 1e-11) | ((largest < 1e-9) & (largest > 0.5 * before)))
            turns[done] = turn
            going &= ~done
        before = largest
        if not going.any():
            break
    return v, turns


def settle(
    dense: DenseCircuit, v: FloatArray, inputs: Inputs, most: int = MOST_SETTLING
) -> FloatArray:
    """Where `v` (point, node) falls to with a capacitor at every node that shrinks while the
    voltages run one way and grows when one turns; see `newton.settle`."""
    return settle_with(_way_of(dense, inputs), v, most)


def settle_with(way: Way, v: FloatArray, most: int = MOST_SETTLING) -> FloatArray:
    """The settling itself, by any way of assembling; see `settle`."""
    v, last = v.copy(), np.zeros_like(v)
    capacitor = np.full(len(v), SETTLE_FROM_S)
    going = np.ones(len(v), dtype=bool)
    for turn in range(1, most + 1):
        rest, slopes = way.assembled(v, SLOPE_STEP if turn % 2 else -SLOPE_STEP)
        going &= ~(np.abs(rest).max(axis=1) < SETTLED_A)
        slopes += capacitor[:, None, None] * np.eye(v.shape[1])
        step = way.eliminated(slopes, rest)
        going &= np.isfinite(step).all(axis=1)
        if not going.any():
            break
        step = np.where(going[:, None], step, 0.0)
        turned = ((step * last < 0.0) & (np.abs(step) > 1e-5)).any(axis=1)
        capacitor = np.where(turned, np.minimum(4.0 * capacitor, 1e4), 0.3 * capacitor)
        v -= np.clip(step, -0.5 * way.most_v, 0.5 * way.most_v)
        last = step
    return v


def _damping(
    step: FloatArray, limit: FloatArray, last: FloatArray, calm: FloatArray, most_v: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    turned = (step * last < 0.0) & (np.abs(step) > 1e-5)
    shrunk = np.maximum(0.5 * np.minimum(limit, np.abs(last)), 1e-5)
    calm = np.where(turned, 0.0, calm + 1.0)
    grown = np.minimum(limit * np.where(calm < 3.0, 1.3, 3.0), most_v)
    return np.where(turned, shrunk, grown), step, calm
