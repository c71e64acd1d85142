"""Kirchhoff's current law at every node, compiled: currents and their slopes from all devices.

This file knows kernels by address only. What is called at every turn is put into its callers
(`inlined`). `c` and `w` are `CircuitArrays` and `Workspace`, one address each.
"""

from __future__ import annotations

from typing import Any

from copperpath.solver.cache import inlined, inner
from copperpath.solver.calls import call_kernel
from copperpath.solver.constants import LEAK_S, TABLE_BYTES


@inlined
def copy(target: Any, source: Any) -> None:
    """Element by element; a slice assignment would compile a page of shape checks."""
    for k in range(len(target)):
        target[k] = source[k]


@inlined
def fill(target: Any, value: float) -> None:
    """The same number everywhere."""
    for k in range(len(target)):
        target[k] = value


@inlined
def fill_in(w: Any, cells: Any, values: Any) -> None:
    """Write values into these cells."""
    for k in range(len(cells)):
        w.cells[cells[k]] = values[k]


@inner
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
def call_laws(c: Any, width: float, w: Any) -> None:
    """Every law, and its slopes unless `width` is 0."""
    cells, offers = w.cells.ctypes.data, w.offers[0]
    for k in range(len(c.bank)):
        bank = c.bank[k]
        table = offers + TABLE_BYTES * bank.seeker
        call_kernel(bank.law, cells + 8 * bank.first, table, bank.count, width)


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
def balance(c: Any, v: Any, width: float, w: Any, opened: bool) -> None:
    """Currents leaving each node in `w.rest`; the slopes stay in the devices' cells."""
    read_volts(c, v, w, opened)
    call_laws(c, width, w)
    add_currents(c, v, w, opened)


@inlined
def assemble(c: Any, v: Any, width: float, w: Any, opened: bool) -> None:
    """Currents leaving each node in `w.rest`, their slopes in `w.matrix`."""
    balance(c, v, width, w, opened)
    add_slopes(c, w, opened)
