"""Devices of one model evaluated together, and a circuit in several variants solved side by side.

A point is one variant: its resistances, its drives, which loads stand open. The rules of the
search are those of the reference (`solver.twin_newton`); only the sums are put together otherwise:
a law is called once for all devices of a model, and elimination goes along the planned neighbours.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.network.circuit import Circuit
from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.solver.constants import LEAK_S, ONE_VOLT_STEPS_TO_V
from copperpath.solver.laws import offers_at
from copperpath.solver.problem import SlotData
from copperpath.solver.shapes import LawShape
from copperpath.solver.twin_newton import Way, search_with, settle_with


@dataclass(frozen=True, slots=True)
class Point:
    """One variant: the circuit with its ohms, states and drives by slot, slots that stand open."""

    circuit: Circuit
    states: Sequence[Sequence[float]]
    drives: Sequence[Sequence[float]]
    opened: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Alike:
    """Devices of one model: their slots, nodes (terminal, member), parameters (each (member,)),
    states and drives (each (point, member)), which stand open (point, member)."""

    shape: LawShape
    model: Any
    slots: tuple[int, ...]
    nodes: np.ndarray
    seeks: np.ndarray
    p: Any
    x: Any
    d: Any
    opened: BoolArray


@dataclass(frozen=True, slots=True)
class SideBySide:
    """A circuit at some points, in the same merged nodes.

    Attributes
    ----------
    circuit : Circuit
        Of the first; the others differ in ohms alone.
    siemens : ndarray (point, branch)
    constant : ndarray (point, node, node)
        Conductances of branches and leak [S].
    tables : ndarray (seeker, 2 * OFFER_POINTS)
        What each seeking terminal is offered.
    """

    circuit: Circuit
    groups: tuple[Alike, ...]
    siemens: FloatArray
    constant: FloatArray
    tables: FloatArray
    shape: tuple[np.ndarray, np.ndarray, range]
    """Nodes that are eliminated first as they have one neighbour, that neighbour, and the places
    of the others in the order."""

    def assembled(self, v: FloatArray, slope_step: float) -> tuple[FloatArray, FloatArray]:
        """Currents leaving the nodes (point, node) and their slopes (point, node, node)."""
        merged = self.circuit.merged
        flows = (v[:, merged.start] - v[:, merged.end]) * self.siemens
        rest = LEAK_S * v
        for point in range(len(v)):
            np.add.at(rest[point], merged.start, flows[point])
            np.subtract.at(rest[point], merged.end, flows[point])
        slopes = self.constant.copy()
        for group in self.groups:
            volts = [np.where(group.opened, 0.0, v[:, row]) for row in group.nodes]
            shut = np.where(group.opened, 0.0, 1.0)
            here = self.currents(group, volts)
            for row, nodes in enumerate(group.nodes):
                rest[:, nodes] += shut * here[row]
            for column, nodes in enumerate(group.nodes):
                moved = list(volts)
                moved[column] = volts[column] + slope_step
                there = self.currents(group, moved)
                width = moved[column] - volts[column]
                for row, others in enumerate(group.nodes):
                    slopes[:, others, nodes] += shut * (there[row] - here[row]) / width
        return rest, slopes

    def currents(self, group: Alike, volts: list[FloatArray]) -> list[Any]:
        """Currents into the members of a group (point, member), by terminal."""
        v, d = group.shape.v_type(*volts), group.d
        if group.shape.seek_place >= 0:
            floor = group.model.floor(v, group.x, d._replace(offer=0.0), group.p)
            floors = np.broadcast_to(floor, volts[0].shape).T
            d = d._replace(offer=offers_at(self.tables[group.seeks], floors).T)
        return group.shape.currents(group.model.law(v, group.x, d, group.p))

    def eliminated(self, slopes: FloatArray, rest: FloatArray) -> FloatArray:
        """Solve slopes · step = rest without exchanging rows, turned pivots mended."""
        plan = self.circuit.elimination
        a, f = slopes, rest.copy()
        leaves, hubs, others = self.shape
        # What hangs on one neighbour alone goes in one sweep; most loads do.
        own = _mended(a[:, leaves, leaves])
        a[:, leaves, leaves] = own
        factor = a[:, hubs, leaves] / own
        across = a[:, leaves, hubs]
        for point in range(len(a)):
            np.subtract.at(a[point], (hubs, hubs), factor[point] * across[point])
            np.subtract.at(f[point], hubs, factor[point] * f[point, leaves])
        arounds = []
        for place in others:
            pivot = plan.order[place]
            around = plan.neighbour[plan.first[place] : plan.first[place + 1]]
            arounds.append((pivot, around))
            own = _mended(a[:, pivot, pivot])
            a[:, pivot, pivot] = own
            if len(around):
                factor = a[:, around, pivot] / own[:, None]
                across = a[:, pivot, around]
                a[:, around[:, None], around] -= factor[:, :, None] * across[:, None, :]
                f[:, around] -= factor * f[:, pivot, None]
        step = np.zeros_like(f)
        for pivot, around in reversed(arounds):
            known = (a[:, pivot, around] * step[:, around]).sum(axis=1)
            step[:, pivot] = (f[:, pivot] - known) / a[:, pivot, pivot]
        known = a[:, leaves, hubs] * step[:, hubs]
        step[:, leaves] = (f[:, leaves] - known) / a[:, leaves, leaves]
        return step

    def operating_points(self) -> tuple[FloatArray, BoolArray]:
        """Volts (point, node) from a fresh start, settled where a plain search finds none, and
        which were found."""
        start_v = np.array(self.circuit.start_v, dtype=np.float64)
        most_v = np.maximum(1.0, start_v / ONE_VOLT_STEPS_TO_V)
        start = np.tile(start_v, (len(self.siemens), 1))
        way = Way(self.assembled, self.eliminated, most_v)
        volts, turns = search_with(way, start)
        missing = np.flatnonzero(turns == 0)
        if len(missing):
            few = self.only(missing)
            way = Way(few.assembled, few.eliminated, most_v)
            found, again = search_with(way, settle_with(way, start[missing]))
            volts[missing], turns[missing] = found, again
        return volts, turns > 0

    def only(self, points: np.ndarray) -> SideBySide:
        """The same at some of the points."""
        groups = tuple(
            Alike(
                group.shape,
                group.model,
                group.slots,
                group.nodes,
                group.seeks,
                group.p,
                group.shape.x_type(*(values[points] for values in group.x)),
                group.shape.d_type(*(values[points] for values in group.d)),
                group.opened[points],
            )
            for group in self.groups
        )
        return SideBySide(
            self.circuit,
            groups,
            self.siemens[points],
            self.constant[points],
            self.tables,
            self.shape,
        )


def side_by_side(
    slots: tuple[SlotData, ...], points: Sequence[Point], tables: FloatArray
) -> SideBySide:
    """A circuit at some points."""
    circuit = points[0].circuit
    ohms = np.array([point.circuit.merged.ohm for point in points])
    siemens = 1.0 / ohms.reshape(len(points), -1)
    count = len(circuit.merged.nodes)
    start, end = circuit.merged.start, circuit.merged.end
    constant = np.zeros((len(points), count, count))
    constant[:, np.arange(count), np.arange(count)] = LEAK_S
    for matrix, row in zip(constant, siemens, strict=True):
        np.add.at(matrix, (start, start), row)
        np.add.at(matrix, (end, end), row)
        np.subtract.at(matrix, (start, end), row)
        np.subtract.at(matrix, (end, start), row)
    by_model: dict[Any, list[int]] = {}
    for slot, data in enumerate(slots):
        by_model.setdefault(data.slot.device.model, []).append(slot)
    groups = tuple(_alike(slots, members, points) for members in by_model.values())
    return SideBySide(circuit, groups, siemens, constant, tables, _shape(circuit))


def _shape(circuit: Circuit) -> tuple[np.ndarray, np.ndarray, range]:
    """The nodes with one neighbour with which the elimination begins; see `SideBySide`."""
    plan = circuit.elimination
    leaves: list[int] = []
    hubs: list[int] = []
    for place, pivot in enumerate(plan.order):
        around = plan.neighbour[plan.first[place] : plan.first[place + 1]]
        if len(around) != 1 or pivot in hubs:
            break
        leaves.append(int(pivot))
        hubs.append(int(around[0]))
    count = len(plan.order)
    return (
        np.array(leaves, dtype=np.int64),
        np.array(hubs, dtype=np.int64),
        range(len(leaves), count),
    )


def _mended(pivots: FloatArray) -> FloatArray:
    return np.where(pivots < 0.5 * LEAK_S, np.maximum(np.abs(pivots), 1e-3), pivots)


def _alike(slots: tuple[SlotData, ...], members: list[int], points: Sequence[Point]) -> Alike:
    data = [slots[slot] for slot in members]
    shape = data[0].shape

    def by_point(kind: str) -> list[FloatArray]:
        rows = np.array(
            [[getattr(point, kind)[slot] for slot in members] for point in points], dtype=float
        )
        return [rows[:, :, place] for place in range(rows.shape[2])] if rows.ndim == 3 else []

    return Alike(
        shape,
        data[0].slot.device.model,
        tuple(members),
        np.array([each.slot.kept for each in data], dtype=np.int64).T,
        np.array([each.slot.seeks for each in data], dtype=np.int64),
        shape.p_type(*np.array([each.parameters for each in data]).reshape(len(data), -1).T),
        shape.x_type(*by_point("states")),
        shape.d_type(*by_point("drives")),
        np.array([[slot in point.opened for slot in members] for point in points], dtype=bool),
    )
