"""A station's equations written a second time, slowly and by name, to check operating points.

Shared with the engine: the models' laws and drives. Not shared: how terminals become nodes, how
currents are summed, how slopes are taken, how a panel's best voltage is found.
"""

from __future__ import annotations

import keyword
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import numpy as np

from copperpath.plugin_api import FloatArray, Terminal
from copperpath.site import Site
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Solution
from copperpath.station import Device, Station

LEAK_S = 1e-9
LEAST_OHM = 1e-5
Volts = Mapping[str, float]
Offer = Callable[[float], float]
"""Lowest admissible panel voltage to most power [W]."""


def bag(values: Mapping[str, Any]) -> SimpleNamespace:
    """Fields for a law; `in` becomes `in_`."""
    return SimpleNamespace(
        **{name + "_" * keyword.iskeyword(name): value for name, value in values.items()}
    )


@dataclass(frozen=True)
class Moment:
    """What is given at one step and key state: states and drives by device, offers, port watts,
    and the loads that were given up."""

    states: Mapping[str, Mapping[str, float]]
    drives: Mapping[str, Mapping[str, float]]
    offers: Mapping[str, Offer]
    opened: frozenset[str] = frozenset()


def seeking(device: Device) -> str:
    """Name of the seeking terminal, or nothing."""
    terminals = device.model.terminals
    return next((t.name for t in terminals if isinstance(t, Terminal) and t.seeking), "")


def terminals_of(device: Device) -> list[str]:
    """Terminals and private nodes in the law's order, the seeking one too."""
    named = [t.name for t in device.model.terminals if isinstance(t, Terminal)]
    return named + list(device.model.inner)


def law_of(device: Device, volts: Volts, moment: Moment) -> dict[str, float]:
    """What the law returns, by full terminal name (watts at a seeking one); nothing if open."""
    if device.name in moment.opened:
        return {f"{device.name}.{t}": 0.0 for t in terminals_of(device)}
    v = bag({t: volts.get(f"{device.name}.{t}", np.nan) for t in terminals_of(device)})
    x, p = bag(moment.states.get(device.name, {})), bag(device.values)
    drives = dict(moment.drives.get(device.name, {}))
    if device.name in moment.offers:
        floor = float(device.model.floor(v, x, bag({**drives, "offer": 0.0}), p))
        drives["offer"] = moment.offers[device.name](floor)
    returned = device.model.law(v, x, bag(drives), p)
    names = [f"{device.name}.{t}" for t in terminals_of(device)]
    return {name: float(value) for name, value in zip(names, returned, strict=True)}


def resistances(station: Station) -> list[tuple[str, str, float]]:
    """Cables and the links of blocks: two terminals and ohms."""
    found = [(str(c.start), str(c.end), c.resistance_ohm) for c in station.cables]
    for device in station.devices:
        for link in device.model.links(device.values):
            start, end = f"{device.name}.{link.start}", f"{device.name}.{link.end}"
            found.append((start, end, link.ohm))
    return [(start, end, max(ohm, LEAST_OHM)) for start, end, ohm in found]


def leaving(station: Station, volts: Volts, moment: Moment) -> dict[str, float]:
    """Current leaving each node [A]; zero everywhere at an operating point."""
    total = {name: LEAK_S * value for name, value in volts.items()}
    for start, end, ohm in resistances(station):
        if start in volts:
            total[start] += (volts[start] - volts[end]) / ohm
            total[end] += (volts[end] - volts[start]) / ohm
    for device in station.devices:
        names = [f"{device.name}.{t}" for t in terminals_of(device)]
        if device.model.law is None or not any(name in volts for name in names):
            continue
        port = f"{device.name}.{seeking(device)}"
        for name, value in law_of(device, volts, moment).items():
            if name not in volts:
                continue
            if name == port:
                # Watts: as a current, unless it is dark and there are neither.
                value = 0.0 if value == 0.0 else value / volts[name]
            total[name] += value
    return total


def slopes(station: Station, volts: Volts, moment: Moment, width: float) -> FloatArray:
    """How the leaving currents (row) move with the voltages (column) [S], by a difference."""
    names = list(volts)
    here = leaving(station, volts, moment)
    matrix = np.zeros((len(names), len(names)))
    for column, name in enumerate(names):
        there = leaving(station, {**volts, name: volts[name] + width}, moment)
        matrix[:, column] = [(there[row] - here[row]) / width for row in names]
    return matrix


def lowest_eigenvalue(station: Station, volts: Volts, moment: Moment) -> float:
    """Lowest real part among the eigenvalues of the slopes [S], the better of both sides.

    With an equal capacitor at every node, the voltages fall back to the operating point if it is
    positive and run away if it is negative. A point may sit on a corner, so one side will do.
    """
    sides = [slopes(station, volts, moment, width) for width in (1e-6, -1e-6)]
    return max(float(np.linalg.eigvals(side).real.min()) for side in sides)


def drives_of(device: Device, site: Site) -> dict[str, FloatArray]:
    """The device's drives (time,)."""
    return device.model.drive(site, device.values) if device.model.drives else {}


def moments(problem: Problem, solution: Solution, step: int, column: int) -> Moment:
    """What was given when this step and column were solved."""
    site, station = problem.site, problem.station
    states: dict[str, dict[str, float]] = {}
    drives: dict[str, dict[str, float]] = {}
    offers: dict[str, Offer] = {}
    order = iter(solution.states[step])
    radio = seeker = 0
    for device in station.devices:
        made = drives_of(device, site)
        drives[device.name] = {name: float(row[step]) for name, row in made.items()}
        if device.model.law is None:
            continue
        states[device.name] = {state.name: float(next(order)) for state in device.model.states}
        if device.model.keying is not None:
            level = problem.columns.levels[step, column, radio]
            drives[device.name]["level"] = float(level)
            radio += 1
        if seeking(device):
            assert solution.points is not None
            half = solution.points.shape[2] // 2
            table = solution.points[step, seeker]
            offers[device.name] = _reader(table[:half], table[half:])
            seeker += 1
    rows = solution.refusals
    here = rows[(rows["step"] == step) & (rows["column"] == column)]
    opened = frozenset(problem.main[slot].slot.device.name for slot in here["slot"])
    return Moment(states, drives, offers, opened)


def _reader(volts: FloatArray, watts: FloatArray) -> Offer:
    return lambda floor: float(np.interp(floor, volts, watts))


def volts_by_name(
    problem: Problem, solution: Solution, step: int, column: int
) -> tuple[dict[str, float], dict[str, float]]:
    """Voltages of the main part, and of the main part and the panel sides together."""
    main = problem.network.main.nodes
    values = dict(zip(main, solution.volts[step, column].tolist(), strict=True))
    whole = dict(values)
    for zone, volts in zip(problem.network.zones, solution.zone_volts, strict=True):
        whole.update(zip(zone.nodes, volts[step, column].tolist(), strict=True))
    return values, whole


# ---- panels in parallel, each on its lead, at a held voltage ---------------------------------


def panel_amps(drives: Mapping[str, float], lead_ohm: float, port_v: FloatArray) -> FloatArray:
    """Current a panel gives through its lead into a port held at `port_v` [A], by halving.

    One diode: photocurrent less diode less shunt, behind the panel's own resistance and the lead.
    """
    ohm = drives["series"] + lead_ohm
    low = np.full(port_v.shape, -1.0)
    high = np.full(port_v.shape, 200.0)
    for _ in range(90):
        junction = 0.5 * (low + high)
        over = junction - ohm * _junction_amps(drives, junction) - port_v
        low, high = np.where(over < 0.0, junction, low), np.where(over < 0.0, high, junction)
    return _junction_amps(drives, 0.5 * (low + high))


def _junction_amps(drives: Mapping[str, float], junction: FloatArray) -> FloatArray:
    bend = drives["steepest"]
    x = junction / drives["slope"]
    diode = np.exp(np.minimum(x, bend)) * (1.0 + np.maximum(x - bend, 0.0)) - 1.0
    leak = drives["shunt"] * junction
    return np.asarray(drives["photocurrent"] - drives["saturation"] * diode - leak)


def swept_power(
    panels: Sequence[tuple[Mapping[str, float], float]], port_v: FloatArray
) -> FloatArray:
    """Power of panels (drives, lead [ohm]) in parallel at each of the held voltages [W]."""
    amps = sum((panel_amps(drives, ohm, port_v) for drives, ohm in panels), np.zeros(port_v.shape))
    return port_v * amps
