"""A circuit and its buffers as compiled code is handed them: tables of named columns.

Few and wide on purpose; `flatten.py` fills them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import ONE_VOLT_STEPS_TO_V
from copperpath.solver.elimination_rows import AROUND, GROUP, HANGING, PIVOT
from copperpath.solver.places import Places, PlacesType, array, whole


def _whole(*names: str) -> list[tuple[str, type]]:
    return [(name, np.int64) for name in names]


def _small(*names: str) -> list[tuple[str, type]]:
    return [(name, np.uint32) for name in names]


BRANCH = np.dtype([*_small("node"), ("siemens", np.float64)])
"""The further end of a branch, its conductance."""
FAN = np.dtype(_small("node", "first", "end"))
"""The near end of some branches, and their rows."""
PORT_ROW = np.dtype([*_small("position"), ("value", np.float64)])
"""Entries of the rows of held nodes, and what they become: 1 on the diagonal."""
BANK = np.dtype(_whole("law", "watch", "first", "count", "seeker", "floor"))
"""Devices served by one call: addresses of their kernels, first cell, how many; which seeking
terminal theirs is and the cell of its floor (both 0 for those that seek nothing)."""
SUPPLY = np.dtype(_whole("complete", "circuit", "near", "job", "buffers"))
"""How a seeking terminal's table is completed: the address of `complete` and those it is given."""
JOINT = np.dtype(_small("node", "volt", "amps", "slot"))
"""Where a device meets a node: cells of volts and current, the device's slot."""
SLOPE = np.dtype(_small("position", "cell", "node", "slot"))
"""Slopes of a device's currents: matrix entry, cell, the node whose volts it is a slope against,
the device's slot."""
LOWEST = np.dtype([*_whole("slot", "node", "wanted", "rank"), ("volt", np.float64)])
"""Loads that say when they are powered: slot, node, cell of the demand, rank (the highest is given
up first), least voltage."""
STATE = np.dtype(
    [
        *_whole("kind", "signal", "judged_worst"),
        *((name, np.float64) for name in ("low", "high", "set_s", "clear_s", "tau_s")),
    ]
)
"""kind 0 accumulator (low, high), 1 latch (delays set_s, clear_s, judged_worst), 2 lag (tau_s).
`signal` is where its signals begin."""


@dataclass(frozen=True, eq=False)
class CircuitArrays(Places):
    """A circuit and its devices. `start_v`: where a fresh start begins [V]; `still`: matrix entries
    that never change; `state`, `drive`, `signal`: cells of all slots' numbers of that kind;
    `solve`, `solve_quiet`, `settle`, `seek`, `sweep`, `port_power`: addresses of the functions of
    these names."""

    nodes: int = whole()
    slots: int = whole()
    port: Any = array(np.int64)
    port_row: Any = array(PORT_ROW)
    start_v: Any = array(np.float64)
    branch: Any = array(BRANCH)
    fan: Any = array(FAN)
    still: Any = array(np.float64)
    tips: int = whole()
    hanging: Any = array(HANGING)
    group: Any = array(GROUP)
    pivot: Any = array(PIVOT)
    around: Any = array(AROUND)
    fill: Any = array(np.uint32)
    bank: Any = array(BANK)
    joint: Any = array(JOINT)
    slope: Any = array(SLOPE)
    state: Any = array(np.uint32)
    drive: Any = array(np.uint32)
    signal: Any = array(np.uint32)
    lowest: Any = array(LOWEST)
    solve: int = whole()
    solve_quiet: int = whole()
    settle: int = whole()
    seek: int = whole()
    sweep: int = whole()
    port_power: int = whole()


@dataclass(frozen=True, eq=False)
class Workspace(Places):
    """Buffers of one circuit's iteration.

    cells: every number of every device, see `layout.py`. open: devices that stand open (1).
    matrix: its entries, and after the elimination what is left of it. per_pivot, share: one over
    each pivot in order, and that times the entry below it, for pivots that hang on one node.
    rest: current left over at each node [A]. step, last: a turn's step and the one before [V].
    limit, most: how far a step may go now, and at most [V]. calm: for how many turns the step has
    not turned round. before: where a step of time began [V]. quiet: 1 if what is left in the
    matrix may serve the next step of time as well. offers: the address of what is offered to
    seeking terminals now, a table each.
    """

    cells: Any = array(np.float64)
    open: Any = array(np.int8)
    matrix: Any = array(np.float64)
    per_pivot: Any = array(np.float64)
    share: Any = array(np.float64)
    rest: Any = array(np.float64)
    step: Any = array(np.float64)
    last: Any = array(np.float64)
    limit: Any = array(np.float64)
    most: Any = array(np.float64)
    calm: Any = array(np.float64)
    before: Any = array(np.float64)
    quiet: Any = array(np.int8)
    offers: Any = array(np.int64)
    held: Any = array(np.int8)
    spare: Any = array(np.float64)
    power: Any = array(np.float64)


CIRCUIT, BUFFERS = PlacesType(CircuitArrays), PlacesType(Workspace)
"""What they are to numba."""


def workspace(cells: FloatArray, slots: int, entries: int, start_v: FloatArray) -> Workspace:
    """Fresh buffers. A node that stands at 230 V may move further in a step than one at 13 V."""
    nodes = len(start_v)
    return Workspace(
        cells=cells.copy(),
        open=np.zeros(slots + 1, dtype=np.int8),
        matrix=np.zeros(entries),
        per_pivot=np.zeros(nodes),
        share=np.zeros(nodes),
        rest=np.zeros(nodes),
        step=np.zeros(nodes),
        last=np.zeros(nodes),
        limit=np.zeros(nodes),
        most=np.maximum(1.0, start_v / ONE_VOLT_STEPS_TO_V),
        calm=np.zeros(nodes),
        before=np.zeros(nodes),
        quiet=np.zeros(1, dtype=np.int8),
        offers=np.zeros(1, dtype=np.int64),
        held=np.zeros(1, dtype=np.int8),
        spare=np.zeros(nodes),
        power=np.zeros(1),
    )
