"""One device at many random points: what a law is given, and what it answers.

Half of the voltages are anywhere within 400 V, half where things happen: near the declared
voltages, at everyday ones, or equal at all terminals. States lie within their bounds, drives are
made by the model's own `drive` on a random site.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from copperpath.conformance.surroundings import TrialSite, dark_site, random_site
from copperpath.plugin_api import (
    Accumulator,
    FloatArray,
    Latch,
    Model,
    Parameter,
    Terminal,
    Window,
)
from copperpath.solver.shapes import LawShape, law_shape
from copperpath.station import Device

HIGHEST_V = 400.0
EVERYDAY_V = 20.0
EVERYDAY_MAINS_V = 260.0
COLD_K, WARM_K = 243.15, 323.15
FROM_K, TO_K = 200.0, 400.0
"""A lag that starts between these is taken for a temperature."""
MOST_OFFER_W = 2000.0
NEAR_V = (0.0, 1e-7, 1e-3, 0.3, 3.0)


@dataclass(frozen=True, slots=True)
class Trial:
    """One device and its points.

    Attributes
    ----------
    declaration : str
        The device as a station file declares it.
    volts, states, drives : ndarray (field, point) [SI]
        In the order of `shape`; a seeking terminal has no voltage.
    site : TrialSite
        Where the drives were made.
    """

    model: type[Model]
    declaration: str
    device: Device
    shape: LawShape
    volts: FloatArray
    states: FloatArray
    drives: FloatArray
    site: TrialSite

    @property
    def points(self) -> int:
        """How many."""
        return int(self.volts.shape[1])

    @property
    def parameters(self) -> FloatArray:
        """Values of `shape.p_fields`."""
        values = self.device.values
        return np.array([float(values[name.rstrip("_")]) for name in self.shape.p_fields])

    def at_rest(self) -> Trial:
        """The same with no voltage anywhere."""
        return replace(self, volts=np.zeros(self.volts.shape))

    def tuples(self) -> tuple[Any, Any, Any, Any]:
        """What the functions of the model take: v, x, d, p."""
        shape = self.shape
        return (
            shape.v_type(*self.volts),
            shape.x_type(*self.states),
            shape.d_type(*self.drives),
            shape.p_type(*(float(value) for value in self.parameters)),
        )

    def inputs_at(self, point: int) -> tuple[tuple[str, float], ...]:
        """Voltages, states and drives of one point, by name."""
        groups = (
            ("v", self.shape.v_fields, self.volts),
            ("x", self.shape.x_fields, self.states),
            ("d", self.shape.d_fields, self.drives),
        )
        return tuple(
            (f"{group}.{name}", float(row[point]))
            for group, names, rows in groups
            for name, row in zip(names, rows, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Flow:
    """What a law answers at every point of a trial.

    `returned` as the law orders it, each (point,); `amps` without a seeking terminal (field,
    point); `watts` at that terminal (point,), 0 without one.
    """

    returned: tuple[FloatArray, ...]
    amps: FloatArray
    watts: FloatArray
    volts: FloatArray

    @property
    def taken(self) -> FloatArray:
        """Power into the device [W], (point,)."""
        return np.asarray(self.watts + np.sum(self.volts * self.amps, axis=0))

    @property
    def scale(self) -> FloatArray:
        """The sum of the amounts of all powers at its terminals [W], (point,)."""
        return np.asarray(np.abs(self.watts) + np.sum(np.abs(self.volts * self.amps), axis=0))


def flow_of(trial: Trial) -> Flow:
    """The law of a trial's device at its points."""
    with np.errstate(all="ignore"):
        returned = filled(trial.model.law(*trial.tuples()), trial.points)
    amps = np.array(trial.shape.currents(returned)).reshape(-1, trial.points)
    seek = trial.shape.seek_place
    watts = returned[seek] if seek >= 0 else np.zeros(trial.points)
    return Flow(returned, amps, watts, trial.volts)


def watched(trial: Trial, flow: Flow) -> tuple[FloatArray, ...]:
    """The signals of the states, each (point,); latches' as 0 and 1."""
    if trial.model.watch is None:
        return ()
    v, x, d, p = trial.tuples()
    with np.errstate(all="ignore"):
        return filled(trial.model.watch(v, flow.returned, x, d, p), trial.points)


def power_of(trial: Trial, flow: Flow, name: str) -> FloatArray:
    """`heat` or `store` at every point [W], zeros where the model has none."""
    function = getattr(trial.model, name)
    if function is None:
        return np.zeros(trial.points)
    v, x, d, p = trial.tuples()
    with np.errstate(all="ignore"):
        return filled((function(v, flow.returned, x, d, p),), trial.points)[0]


def filled(parts: Sequence[Any], points: int) -> tuple[FloatArray, ...]:
    """Each part as an array (point,)."""
    return tuple(np.broadcast_to(np.asarray(part, np.float64), (points,)).copy() for part in parts)


# ---- making one -----------------------------------------------------------------------------


def make_trial(declaration: str, device: Device, points: int, random: np.random.Generator) -> Trial:
    """Random points for a device.

    Raises
    ------
    Exception
        Whatever the model's `drive` stumbles over.
    """
    shape, site = law_shape(device.model), random_site(random, points)
    drives = _drives(device, shape, site, random)
    states = _states(device, drives, points, random)
    volts = _volts(device, shape, points, random)
    return Trial(device.model, declaration, device, shape, volts, states, drives, site)


def in_the_dark(trial: Trial, random: np.random.Generator) -> Trial:
    """The trial at night with all hours off, its states as they begin."""
    site = dark_site(trial.points)
    drives = _drives(trial.device, trial.shape, site, random)
    states = np.zeros(trial.states.shape)
    for row, value in zip(states, initial_states(trial.device, drives), strict=True):
        row[:] = value
    return replace(trial, drives=drives, states=states, site=site)


def initial_states(device: Device, drives: FloatArray) -> list[float]:
    """What each state begins at."""
    values = []
    for state in device.model.states:
        if isinstance(state.initial, str) and state.initial in device.model.drives:
            values.append(float(drives[device.model.drives.index(state.initial), 0]))
        elif isinstance(state.initial, str):
            values.append(float(device.values[state.initial]))
        else:
            values.append(float(state.initial))
    return values


def _drives(
    device: Device, shape: LawShape, site: TrialSite, random: np.random.Generator
) -> FloatArray:
    points = len(site.light)
    made = dict(device.model.drive(site, device.values)) if device.model.drives else {}
    rows = np.zeros((len(shape.d_fields), points))
    for row, name in zip(rows, device.model.drives, strict=False):
        row[:] = made[name]
    if device.model.keying is not None:
        level = np.clip(random.uniform(-0.2, 1.2, points), 0.0, 1.0)
        rows[shape.d_fields.index("level")] = level
    if shape.seek_place >= 0:
        offer = MOST_OFFER_W ** random.uniform(-0.3, 1.0, points)
        rows[-1] = np.where(random.random(points) < 0.2, 0.0, offer)
    return rows


def _states(
    device: Device, drives: FloatArray, points: int, random: np.random.Generator
) -> FloatArray:
    rows = np.zeros((len(device.model.states), points))
    initial = initial_states(device, drives)
    for row, state, begin in zip(rows, device.model.states, initial, strict=True):
        if isinstance(state, Latch):
            row[:] = random.integers(0, 2, points)
        elif isinstance(state, Accumulator):
            row[:] = _between(state, begin, points, random)
        elif FROM_K <= begin <= TO_K:
            row[:] = random.uniform(COLD_K, WARM_K, points)
        elif state.initial in device.model.drives:
            reach = drives[device.model.drives.index(state.initial)]
            row[:] = random.uniform(reach.min(), reach.max(), points)
        else:
            row[:] = begin * random.uniform(0.5, 1.5, points)
    return rows


def _between(
    state: Accumulator, begin: float, points: int, random: np.random.Generator
) -> FloatArray:
    reach = 10.0 * max(1.0, abs(begin))
    low = state.low if np.isfinite(state.low) else begin - reach
    high = state.high if np.isfinite(state.high) else begin + reach
    wider = random.uniform(low - 0.1 * (high - low), high + 0.1 * (high - low), points)
    return np.clip(wider, low, high)


def _volts(device: Device, shape: LawShape, points: int, random: np.random.Generator) -> FloatArray:
    count = len(shape.v_fields)
    marks = np.array([0.0, *declared_volts(device)])
    far = random.uniform(-HIGHEST_V, HIGHEST_V, (count, points))
    width = random.choice(NEAR_V, (count, points))
    near = random.choice(marks, (count, points)) + width * random.uniform(-1.0, 1.0, far.shape)
    usual = random.uniform(0.0, 1.0, (count, points)) * _everyday(device.model, count)[:, None]
    kind = random.random((count, points))
    volts = np.where(kind < 0.5, far, np.where(kind < 0.75, near, usual))
    # At some points all terminals stand close together, as those of a switch or a diode do.
    together = random.random(points) < 0.2
    apart = random.choice(NEAR_V, (count, points)) * random.uniform(-1.0, 1.0, far.shape)
    return np.clip(np.where(together, usual[:1] + apart, volts), -HIGHEST_V, HIGHEST_V)


def declared_volts(device: Device) -> list[float]:
    """The voltages that a device's parameters speak of, where they are within reach [V]."""
    names: list[str] = [device.model.pushes] if device.model.pushes else []
    for parameter in device.model.parameters:
        if isinstance(parameter, Parameter) and parameter.dimension == "voltage":
            names.append(parameter.name)
        if isinstance(parameter, Window) and parameter.dimension == "voltage":
            names += [f"{parameter.name}_low", f"{parameter.name}_high"]
    names += [name for name in device.model.derived if "volt" in name]
    found = [float(device.values[name]) for name in names]
    return sorted({value for value in found if abs(value) <= HIGHEST_V})


def _everyday(model: type[Model], count: int) -> FloatArray:
    """The highest usual voltage of each terminal and inner node [V]."""
    kinds = [t.alternating for t in model.terminals if isinstance(t, Terminal) and not t.seeking]
    usual = [EVERYDAY_MAINS_V if alternating else EVERYDAY_V for alternating in kinds]
    return np.array([*usual, *[max(usual, default=EVERYDAY_V)] * (count - len(usual))])
