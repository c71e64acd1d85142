"""One solved run with everything derived from it once: flows, powers, and time in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from copperpath.plugin_api import FloatArray, Terminal
from copperpath.record.energy import BranchFlow, Powers, branch_flows, powers
from copperpath.solver.laws import DeviceFlow, flows
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.solution import Solution
from copperpath.station import Device


@dataclass(frozen=True, slots=True)
class Run:
    """A problem, its solution and what follows from both."""

    problem: Problem
    solution: Solution
    flows: dict[str, DeviceFlow]
    branches: list[BranchFlow]
    powers: Powers

    def when(self, step: int) -> datetime:
        """Start of a step, in the station's zone."""
        starts = self.problem.station.site.starts
        return starts + timedelta(seconds=step * self.problem.dt)

    def weighted(self, values: FloatArray) -> FloatArray:
        """Mean over the key states (time,) of an array (time, column)."""
        weights = self.problem.columns.weights
        total: FloatArray = (weights * values).sum(axis=1)
        return total

    def worst(self, values: FloatArray) -> FloatArray:
        """The column in which every radio that is on is keyed (time,)."""
        column: FloatArray = values[:, self.problem.columns.worst]
        return column

    def terminal_volts(self, device: Device, terminal: str = "") -> FloatArray:
        """Voltage (time, column) at a terminal, or at the device's main one."""
        name = f"{device.name}.{terminal or main_terminal(device)}"
        network = self.problem.network
        circuits = [(network.main, self.solution.volts)]
        circuits += list(zip(network.zones, self.solution.zone_volts, strict=True))
        for circuit, volts in circuits:
            if name in circuit.nodes:
                found: FloatArray = volts[:, :, circuit.nodes.index(name)]
                return found
        raise KeyError(name)

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
        """How much of each step a load is wanted (time,), or None."""
        found = self.slot(device.name)
        if found is None or not device.model.demand:
            return None
        drives: FloatArray = found[0].drives[found[0].shape.d_fields.index(device.model.demand)]
        return drives


def make_run(problem: Problem, solution: Solution) -> Run:
    """Evaluate laws and powers over a finished solution."""
    device_flows = flows(problem, solution)
    branches = branch_flows(problem, solution)
    return Run(
        problem, solution, device_flows, branches, powers(problem, solution, device_flows, branches)
    )


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
