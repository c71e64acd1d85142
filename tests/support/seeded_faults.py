"""Models and powers with one loss counted 1 % too high, to show that the first law would notice."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from copperpath.record.energy import BranchFlow, branch_flows
from copperpath.record.run import Run
from copperpath.station import Station
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.step_down import StepDown
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

TOO_HIGH = 1.01


class FaultyBattery(LithiumIronPhosphate):
    """A battery that counts its loss too high."""

    interface = 1

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return TOO_HIGH * LithiumIronPhosphate.heat(v, i, x, d, p)


class FaultyCharger(MpptCharger):
    """A charge controller that counts its loss too high."""

    interface = 1

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return TOO_HIGH * MpptCharger.heat(v, i, x, d, p)


class FaultyStepDown(StepDown):
    """A step-down converter that counts its loss too high."""

    interface = 1

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return TOO_HIGH * StepDown.heat(v, i, x, d, p)


FAULTY = {each.name: each for each in (FaultyBattery, FaultyCharger, FaultyStepDown)}


def with_faulty(station: Station, name: str) -> Station:
    """The station with every device of one model replaced by the faulty one."""
    devices = tuple(
        replace(device, model=FAULTY[name]) if device.model.name == name else device
        for device in station.devices
    )
    return replace(station, devices=devices)


class FaultyCable(BranchFlow):
    """A cable that counts its loss too high."""

    @property
    def heat(self) -> Any:
        return TOO_HIGH * self.branch.ohm * self.amps**2


@dataclass(frozen=True)
class RunWithFaultyCable(Run):
    """A run with one cable's loss counted too high."""

    cable: str

    @cached_property
    def branches(self) -> list[BranchFlow]:
        return [
            FaultyCable(flow.branch, flow.circuit, flow.place, flow.kept)
            if flow.branch.is_cable and flow.branch.owner == self.cable
            else flow
            for flow in branch_flows(self.problem, self.solution)
        ]


def with_faulty_cable(run: Run, name: str) -> Run:
    """The same run with one cable's loss counted too high."""
    return RunWithFaultyCable(run.problem, run.solution, name)
