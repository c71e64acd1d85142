"""Kirchhoff's current law at every node, compiled: currents and their slopes from all devices.

This file knows kernels by address only. What is called at every turn is put into its callers
(`inlined`): an array is handed on as seven numbers, and a call would copy all of them.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.cache import compiled, inlined
from copperpath.solver.calls import call_kernel
from copperpath.solver.constants import LEAK_S, ONE_VOLT_STEPS_TO_V


class CircuitArrays(NamedTuple):
    """A circuit and its devices as tables of named columns; see `flatten.py` for what each holds.

    Few and wide on purpose: every array is handed on at each call as seven numbers, and the
    compiler pays for them.
    """

    nodes: int
    slots: int
    port: Any
    port_row: Any
    start_v: Any
    branch: Any
    fan: Any
    still: Any
    tips: int
    hanging: Any
    group: Any
    pivot: Any
    around: Any
    fill: Any
    bank: Any
    joint: Any
    slope: Any
    state: Any
    drive: Any
    signal: Any
    lowest: Any


class Workspace(NamedTuple):
    """Buffers of one circuit's iteration.

    cells: every number of every device, see `layout.py`. open: devices that stand open (1).
    matrix: its entries, and after the elimination what is left of it. per_pivot, share: one over
    each pivot in order, and that times the entry below it, for pivots that hang on one node.
    rest: current left over at each node [A]. step, last: a turn's step and the one before [V].
    limit, most: how far a step may go now, and at most [V]. calm: for how many turns the step has
    not turned round. before: where a step of time began [V]. quiet: 1 if what is left in the
    matrix may serve the next step of time as well.
    """

    cells: Any
    open: Any
    matrix: Any
    per_pivot: Any
    share: Any
    rest: Any
    step: Any
    last: Any
    limit: Any
    most: Any
    calm: Any
    before: Any
    quiet: Any


def workspace(cells: FloatArray, slots: int, entries: int, start_v: FloatArray) -> Workspace:
    """Fresh buffers. A node that stands at 230 V may move further in a step than one at 13 V."""
    nodes = len(start_v)
    return Workspace(
        cells.copy(),
        np.zeros(slots + 1, dtype=np.int8),
        np.zeros(entries),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(nodes),
        np.maximum(1.0, start_v / ONE_VOLT_STEPS_TO_V),
        np.zeros(nodes),
        np.zeros(nodes),
        np.zeros(1, dtype=np.int8),
    )


@inlined
def copy(target: Any, source: Any) -> None:
    """Element by element; a slice assignment would compile a page of shape checks."""
    for k in range(len(target)):
        target[k] = source[k]


@inlined
def fill_in(w: Any, cells: Any, values: Any) -> None:
    """Write values into these cells."""
    for k in range(len(cells)):
        w.cells[cells[k]] = values[k]


@compiled
def any_open(w: Any) -> bool:
    """True if a device stands open."""
    total = 0
    for k in range(len(w.open)):
        total += w.open[k]
    return total > 0


@inlined
def read_volts(c: Any, v: Any, w: Any, opened: bool) -> None:
    """The nodes' volts into the devices' cells; none into a device that stands open."""
    for k in range(len(c.joint)):
        joint = c.joint[k]
        w.cells[joint.volt] = v[joint.node]
    if opened:
        for k in range(len(c.joint)):
            if w.open[c.joint[k].slot] == 1:
                w.cells[c.joint[k].volt] = 0.0


@inlined
def call_laws(c: Any, points: Any, zone_size: int, width: float, w: Any) -> None:
    """Every law, and its slopes unless `width` is 0."""
    cells_at, points_at = w.cells.ctypes.data, points.ctypes.data
    for k in range(len(c.bank)):
        bank = c.bank[k]
        call_kernel(
            bank.law,
            cells_at + 8 * bank.first,
            points_at + 8 * zone_size * bank.zone,
            bank.count,
            width,
        )


@inlined
def add_currents(c: Any, v: Any, w: Any, opened: bool) -> None:
    """Currents leaving each node in `w.rest`: leak, branches, devices."""
    for node in range(c.nodes):
        w.rest[node] = LEAK_S * v[node]
    for place in range(len(c.fan)):
        fan = c.fan[place]
        volt = v[fan.node]
        total = 0.0
        for k in range(fan.first, fan.end):
            branch = c.branch[k]
            amps = branch.siemens * (volt - v[branch.node])
            w.rest[branch.node] -= amps
            total += amps
        w.rest[fan.node] += total
    for k in range(len(c.joint)):
        joint = c.joint[k]
        if not opened or w.open[joint.slot] == 0:
            w.rest[joint.node] += w.cells[joint.amps]


@inlined
def add_slopes(c: Any, w: Any, opened: bool) -> None:
    """The slopes of those currents in `w.matrix`."""
    copy(w.matrix, c.still)
    for k in range(len(c.slope)):
        slope = c.slope[k]
        if not opened or w.open[slope.slot] == 0:
            w.matrix[slope.position] += w.cells[slope.cell]


@inlined
def balance(
    c: Any, v: Any, points: Any, zone_size: int, width: float, w: Any, opened: bool
) -> None:
    """Currents leaving each node in `w.rest`; the slopes stay in the devices' cells."""
    read_volts(c, v, w, opened)
    call_laws(c, points, zone_size, width, w)
    add_currents(c, v, w, opened)


@inlined
def assemble(
    c: Any, v: Any, points: Any, zone_size: int, width: float, w: Any, opened: bool
) -> None:
    """Currents leaving each node in `w.rest`, their slopes in `w.matrix`."""
    balance(c, v, points, zone_size, width, w, opened)
    add_slopes(c, w, opened)
