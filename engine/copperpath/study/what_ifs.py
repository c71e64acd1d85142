"""Solving again with one thing changed: what names the cause of a failure, and what mends it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from copperpath.network.nodes import make_network
from copperpath.plugin_api import ParameterProblem, Schedule, Suspect
from copperpath.record.run import make_run
from copperpath.site import Site
from copperpath.solver.problem import make_problem
from copperpath.station import Cable, Device, Station
from copperpath.study.executors import Executor
from copperpath.study.survival import Survival, survive


@dataclass(frozen=True, slots=True)
class Trial:
    """A change and what it yields. `cause` reads after "cause:"; `sizing` marks trials that only
    make something bigger; `latch` is the state that shows that the cause really happened."""

    cause: str
    remedy: str
    sizing: bool
    latch: str
    facts: Survival


def run_trials(station: Station, site: Site, executor: Executor) -> list[Trial]:
    """Every trial that changes something, solved over the same span."""
    found = trials(station)
    problems = [make_problem(changed, make_network(changed), site) for *_, changed in found]
    facts = executor.each(problems, lambda problem, solved: survive(make_run(problem, solved)))
    return [
        Trial(cause, remedy, sizing, latch, each)
        for (cause, remedy, sizing, latch, _), each in zip(found, facts, strict=True)
    ]


def trials(station: Station) -> list[tuple[str, str, bool, str, Station]]:
    """(cause, remedy, sizing, latch, changed station) of every trial that applies."""
    found: list[tuple[str, str, bool, str, Station]] = []
    suspects = {s.cause: s for device in station.devices for s in device.model.suspects}
    for suspect in suspects.values():
        changed = _with_suspect(station, suspect)
        if changed is not None:
            found.append((suspect.cause, suspect.remedy, suspect.sizing, suspect.latch, changed))
    found.append(
        (
            "volts lost in the cables",
            "cables of a tenth of the resistance",
            False,
            "",
            replace(station, cables=tuple(_stouter(cable) for cable in station.cables)),
        )
    )
    quieter = _map_devices(station, _half_transmitting)
    if quieter is not None:
        found.append(("the time spent transmitting", "half the transmitting", True, "", quieter))
    return found


def _with_suspect(station: Station, suspect: Suspect) -> Station | None:
    def change(device: Device) -> Device:
        if suspect not in device.model.suspects:
            return device
        return changed_device(device, dict(suspect.change))

    return _map_devices(station, change)


def changed_device(device: Device, changes: dict[str, float | str]) -> Device:
    """A device with parameters changed and everything derived worked out again; derived values
    among the changes are set afterwards."""
    values = dict(device.values)
    for name, change in changes.items():
        if name not in device.model.derived:
            values[name] = _new_value(values[name], change)
    try:
        values |= device.model.derive(values)
    except ParameterProblem:
        return device
    for name, change in changes.items():
        if name in device.model.derived:
            values[name] = _new_value(values[name], change)
    return replace(device, values=values)


def _new_value(old: float, change: float | str) -> float:
    return old * float(change[1:]) if isinstance(change, str) else change


def _map_devices(station: Station, change: Callable[[Device], Device]) -> Station | None:
    devices = tuple(change(device) for device in station.devices)
    if all(new is old or new == old for new, old in zip(devices, station.devices, strict=True)):
        return None
    return replace(station, devices=devices)


def _stouter(cable: Cable) -> Cable:
    fuses = tuple(replace(fuse, ohm=fuse.ohm / 10.0) for fuse in cable.fuses)
    joints = tuple(replace(joint, ohm=joint.ohm / 10.0) for joint in cable.joints)
    return replace(cable, wire_ohm=cable.wire_ohm / 10.0, joints=joints, fuses=fuses)


def _half_transmitting(device: Device) -> Device:
    if device.model.keying is None:
        return device
    values = {
        name: _halved(value) if isinstance(value, Schedule) and name == "transmitting" else value
        for name, value in device.values.items()
    }
    return replace(device, values=values)


def _halved(schedule: Schedule) -> Schedule:
    windows = tuple(replace(window, value=window.value / 2.0) for window in schedule.windows)
    return Schedule(windows, schedule.otherwise / 2.0)
