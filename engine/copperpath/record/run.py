"""One solved run and what follows from it when asked: flows, powers, and time in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property

import numpy as np

from copperpath.plugin_api import BoolArray, FloatArray, Terminal
from copperpath.record.energy import (
    BranchFlow,
    Powers,
    branch_flows,
    circuits_with_volts,
    powers,
)
from copperpath.solver.laws import DeviceFlow, flow_of
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.solution import Solution, refused_at
from copperpath.station import Device

MEMORY_VALUES = 400_000
"""So many flows of (time, column) are kept once worked out; in longer runs only the last one."""


class Flows(Mapping[str, DeviceFlow]):
    """The flow of every device with a law, by name, worked out when asked for."""

    def __init__(self, problem: Problem, solution: Solution) -> None:
        self._problem, self._solution = problem, solution
        self._names = [
            data.slot.device.name for slots in (problem.main, *problem.zones) for data in slots
        ]
        self._known: dict[str, DeviceFlow] = {}
        self._most = max(1, MEMORY_VALUES // max(1, solution.outcome.size))

    def __getitem__(self, name: str) -> DeviceFlow:
        if name not in self._known:
            made = flow_of(self._problem, self._solution, name)
            if made is None:
                raise KeyError(name)
            if len(self._known) >= self._most:
                self._known.clear()
            self._known[name] = made
        return self._known[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


@dataclass(frozen=True)
class Run:
    """A problem, its solution and what follows from both."""

    problem: Problem
    solution: Solution

    @cached_property
    def flows(self) -> Flows:
        """Devices with a law."""
        return Flows(self.problem, self.solution)

    @cached_property
    def branches(self) -> list[BranchFlow]:
        """Cables and links."""
        return branch_flows(self.problem, self.solution)

    @cached_property
    def powers(self) -> Powers:
        """Terms of the balance."""
        return powers(self.problem, self.solution, self.flows, self.branches)

    @property
    def dt_s(self) -> FloatArray:
        """Length of each step (time,) [s]."""
        return self.problem.dt_s

    def since(self, step: float) -> float:
        """Seconds from the start of the run to the start of a step; a part of a step is that part
        of its length."""
        whole, time_s = int(step), self.problem.site.time_s
        if whole >= len(time_s):
            return float(time_s[-1] - time_s[0]) + float(self.dt_s[-1])
        return float(time_s[whole] - time_s[0]) + (step - whole) * float(self.dt_s[whole])

    def when(self, step: float) -> datetime:
        """The same in the station's zone."""
        starts = self.problem.station.site.starts
        return starts + timedelta(seconds=round(self.since(step), 3))

    def seconds(self, chosen: FloatArray | BoolArray) -> float:
        """Time [s] in the steps chosen (time,), or over steps in part chosen."""
        return float(np.sum(self.dt_s * chosen))

    def energy(self, power: FloatArray) -> float:
        """Energy [J] of a power (time,) [W]; steps without a figure count as nothing."""
        return float(np.nansum(self.dt_s * power))

    def mean(self, values: FloatArray) -> float:
        """Mean over time of values (time,), steps without a figure left out."""
        known = np.isfinite(values)
        if not known.any():
            return float("nan")
        return float(np.average(values[known], weights=self.dt_s[known]))

    def weighted(self, values: FloatArray) -> FloatArray:
        """Mean over the key states (time,) of an array (time, column)."""
        weights = self.problem.columns.weights
        total: FloatArray = (weights * values).sum(axis=1)
        return total

    def worst(self, values: FloatArray) -> FloatArray:
        """The least (time,) of values (time, column) in any column in which every radio that is on
        and may be is keyed."""
        columns = self.problem.columns.extremes
        if len(columns) == 1:
            return np.asarray(values[:, columns[0]])
        return np.asarray(values[:, columns.start : columns.stop].min(axis=1))

    def terminal_volts(self, device: Device, terminal: str = "") -> FloatArray:
        """Voltage (time, column) at a terminal, or at the device's main one."""
        name = f"{device.name}.{terminal or main_terminal(device)}"
        for circuit, kept in circuits_with_volts(self.problem, self.solution):
            if name in circuit.nodes:
                volts = circuit.spread(kept, circuit.nodes.index(name))
                return self._as_asked(device, name, volts)
        raise KeyError(name)

    def _as_asked(self, device: Device, name: str, volts: FloatArray) -> FloatArray:
        """A load's volts with those at which it was given up, where it was."""
        powered = device.model.powered
        if device.kind != "load" or powered is None or name != f"{device.name}.{powered[0]}":
            return volts
        places = (k for k, d in enumerate(self.problem.main) if d.slot.device.name == device.name)
        step, column, asked = refused_at(self.solution, next(places, -1))
        if len(step) == 0:
            return volts
        volts = volts.copy()
        volts[step, column] = asked
        return volts

    def slot(self, name: str) -> tuple[SlotData, int] | None:
        """A device's slot in the main circuit and where its states begin."""
        first = 0
        for data in self.problem.main:
            if data.slot.device.name == name:
                return data, first
            first += len(data.states)
        return None

    def state(self, device: str, state: str) -> FloatArray | None:
        """A state at the start of each step and at the end (time + 1,), or None."""
        found = self.slot(device)
        if found is None:
            return None
        data, first = found
        names = [each.name for each in data.states]
        if state not in names:
            return None
        values: FloatArray = self.solution.states[:, first + names.index(state)]
        return values

    def wanted(self, device: Device) -> FloatArray | None:
        """How much of each step a load is wanted (time,), or None; what runs on surplus alone is
        never counted on."""
        found = self.slot(device.name)
        if found is None or not device.model.demand or device.model.spare:
            return None
        drives: FloatArray = found[0].drives[found[0].shape.d_fields.index(device.model.demand)]
        return drives


def make_run(problem: Problem, solution: Solution) -> Run:
    """A solution with its problem."""
    return Run(problem, solution)


def main_terminal(device: Device) -> str:
    """The terminal that the device's name alone stands for."""
    terminals = [each for each in device.model.terminals if isinstance(each, Terminal)]
    for terminal in terminals:
        if terminal.main:
            return terminal.name
    return terminals[0].name


def charge_state(device: Device) -> str | None:
    """Name of the state that holds a store's charge."""
    for state in device.model.states:
        if getattr(state, "carries_charge", False):
            return state.name
    return None
