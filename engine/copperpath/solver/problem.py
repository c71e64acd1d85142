"""Everything a run needs, with the station's laws, parameters, drives and columns laid out.

Shared by both executors; the matrices, the time step and the latches are each executor's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Protocol

import numpy as np

from copperpath.network.circuit import Circuit, Network, Slot
from copperpath.plugin_api import FloatArray, Lag, State, Surroundings
from copperpath.site import Site, cut_site
from copperpath.solver.keying import Columns, Radio, make_columns
from copperpath.solver.shapes import LawShape, law_shape
from copperpath.station import Station


@dataclass(frozen=True, slots=True)
class SlotData:
    """A slot with its numbers.

    Attributes
    ----------
    parameters : ndarray (parameter,)
        In the order of the law's `p`.
    drives : ndarray (drive, time)
        In the order of the law's `d`; `level` and `offer` are zero here.
    level_at : int
        Place of `level` among the drives, -1 if the device is not keyed.
    states : tuple of State
    initial : ndarray (state,)
    """

    slot: Slot
    shape: LawShape
    parameters: FloatArray
    drives: FloatArray
    level_at: int
    states: tuple[State, ...]
    initial: FloatArray

    @property
    def values(self) -> Mapping[str, Any]:
        """The device's parameter values by name."""
        return self.slot.device.values


@dataclass(frozen=True, slots=True)
class Problem:
    """A station over the steps of a site."""

    station: Station
    network: Network
    site: Site
    main: tuple[SlotData, ...]
    zones: tuple[tuple[SlotData, ...], ...]
    columns: Columns

    @property
    def steps(self) -> int:
        """How many steps."""
        return self.site.n

    @property
    def dt_s(self) -> FloatArray:
        """Length of each step (time,) [s]."""
        return self.site.dt_s


def make_problem(
    station: Station, network: Network, site: Site, *, columns: bool = True
) -> Problem:
    """Work out drives and parameters once for a run; without `columns` for its corners alone,
    which choose for themselves what is keyed."""
    main = _slots(network.main, site)
    radios = {
        data.slot.device.name: _radio(data, network.main.start_v)
        for data in main
        if data.level_at >= 0 and columns
    }
    order = list(radios)
    groups = station.never_together if columns else ()
    exclusive = [tuple(order.index(name) for name in group) for group in groups]
    return Problem(
        station,
        network,
        site,
        main,
        tuple(_slots(zone, site) for zone in network.zones),
        make_columns(list(radios.values()), site.n, exclusive),
    )


def _radio(data: SlotData, start_v: tuple[float, ...]) -> Radio:
    keying = data.slot.device.model.keying
    assert keying is not None
    return Radio(
        data.drives[data.shape.d_fields.index(keying.share)],
        data.values[keying.mode],
        data.values[keying.mode_square],
        keyed_amps(data, start_v),
    )


def keyed_amps(data: SlotData, start_v: tuple[float, ...]) -> float:
    """What a radio takes while keyed, at the voltages its nodes start from [A]."""
    drives = data.drives.max(axis=1)
    drives[data.level_at] = 1.0
    shape = data.shape
    v = shape.v_type(*(start_v[node] for node in data.slot.kept))
    x, d, p = (
        shape.x_type(*data.initial),
        shape.d_type(*drives),
        shape.p_type(*data.parameters),
    )
    return float(np.asarray(data.slot.device.model.law(v, x, d, p)[0]))


def keyed_too_long(problem: Problem) -> list[tuple[tuple[str, ...], float]]:
    """Groups of radios that are never keyed at once and yet are keyed for more than all of some
    step, with the largest share."""
    found = []
    shares = {}
    for data in problem.main:
        keying = data.slot.device.model.keying
        if keying is not None:
            row = data.drives[data.shape.d_fields.index(keying.share)]
            shares[data.slot.device.name] = row
    for group in problem.station.never_together:
        most = float(np.sum([shares[name] for name in group], axis=0).max())
        if most > 1.0 + 1e-9:
            found.append((group, most))
    return found


@dataclass(frozen=True, slots=True)
class PoweredLoad:
    """A load that says when it is powered: the solved node at which it is judged, the place of
    its demand among its drives, its least voltage [V]."""

    node: int
    drive: int
    lowest_v: float


def powered_load(data: SlotData) -> PoweredLoad | None:
    """When a device counts as powered; None for what is no load, does not say or is never short."""
    model = data.slot.device.model
    if model.powered is None or not model.demand or model.spare:
        return None
    terminal, parameter = model.powered
    return PoweredLoad(
        data.slot.kept[data.shape.v_fields.index(terminal)],
        data.shape.d_fields.index(model.demand),
        float(data.values[parameter]),
    )


def delay_s(data: SlotData, parameter: str) -> float:
    """A delay of a latch [s]; 0 if it has none."""
    return float(data.values[parameter]) if parameter else 0.0


def cut(problem: Problem, span: slice) -> Problem:
    """The problem over some of its steps."""

    def shorter(data: SlotData) -> SlotData:
        return replace(data, drives=data.drives[:, span])

    columns = problem.columns
    return replace(
        problem,
        site=cut_site(problem.site, span),
        main=tuple(shorter(data) for data in problem.main),
        zones=tuple(tuple(shorter(data) for data in zone) for zone in problem.zones),
        columns=replace(
            columns,
            levels=np.ascontiguousarray(columns.levels[span]),
            weights=np.ascontiguousarray(columns.weights[span]),
        ),
    )


class Around(Surroundings, Protocol):
    """The surroundings of a run, and for how many steps they are known."""

    @property
    def n(self) -> int:
        """Number of steps."""


def driven_by(problem: Problem, site: Site, around: Around) -> Problem:
    """The same problem over the same steps under another sky and air: drives and first states are
    worked out anew from `around`; radios are keyed as before."""
    return replace(
        problem,
        site=site,
        main=_slots(problem.network.main, around),
        zones=tuple(_slots(zone, around) for zone in problem.network.zones),
    )


def _slots(circuit: Circuit, site: Around) -> tuple[SlotData, ...]:
    return tuple(_slot_data(slot, site) for slot in circuit.slots)


def _slot_data(slot: Slot, site: Around) -> SlotData:
    device, model = slot.device, slot.device.model
    shape = law_shape(model)
    made = model.drive(site, device.values) if model.drives else {}
    drives = np.zeros((len(shape.d_fields), site.n))
    if len(model.drives) == 1 and len(shape.d_fields) == 1:
        # One row need not be copied, and most loads have one.
        drives = np.broadcast_to(made[model.drives[0]], (1, site.n))
    else:
        for place, name in enumerate(model.drives):
            drives[place] = made[name]
    parameters = np.array(
        [float(device.values[name.rstrip("_")]) for name in shape.p_fields], dtype=np.float64
    )
    initial = np.zeros(len(model.states))
    for place, state in enumerate(model.states):
        if isinstance(state, Lag) and state.initial in model.drives:
            initial[place] = drives[model.drives.index(state.initial), 0]
        elif isinstance(state.initial, str):
            initial[place] = float(device.values[state.initial])
        else:
            initial[place] = state.initial
    level_at = shape.d_fields.index("level") if model.keying is not None else -1
    return SlotData(slot, shape, parameters, drives, level_at, model.states, initial)
