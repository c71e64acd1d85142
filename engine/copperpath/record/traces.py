"""Every recorded quantity over time, by name."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

import numpy as np

from copperpath.plugin_api import FloatArray, Terminal
from copperpath.record.energy import BranchFlow
from copperpath.record.record import Trace
from copperpath.record.run import Run, charge_state, main_terminal
from copperpath.station import Device

Maker = Callable[[], FloatArray]

DUST = 1e-12
"""Figures smaller than this (V, A, W) are rounding, and shown as nothing."""

MEAN = "mean over the key states"


class Traces(Mapping[str, Trace]):
    """Every recorded quantity by name, worked out when asked for."""

    def __init__(self, makers: Mapping[str, tuple[str, Maker, str]]) -> None:
        self._makers = makers

    def __getitem__(self, name: str) -> Trace:
        unit, make, meaning = self._makers[name]
        values = make()
        array = np.where(np.abs(values) < DUST, 0.0, values).astype(np.float64)
        array.flags.writeable = False
        return Trace(name, unit, array, meaning)

    def __iter__(self) -> Iterator[str]:
        return iter(self._makers)

    def __len__(self) -> int:
        return len(self._makers)


def make_traces(run: Run) -> Traces:
    """Voltages, worst voltages, currents, powers, charges and cable currents."""
    makers: dict[str, tuple[str, Maker, str]] = {}
    for device in run.problem.station.devices:
        makers |= _of_device(run, device)
    for flow in run.branches:
        if flow.branch.is_cable:
            meaning = f"{MEAN}, from start to end"
            makers[f"{flow.branch.owner}.current"] = ("A", _cable_amps(run, flow), meaning)
    return Traces(makers)


def _cable_amps(run: Run, flow: BranchFlow) -> Maker:
    return lambda: run.weighted(flow.amps)


def _of_device(run: Run, device: Device) -> dict[str, tuple[str, Maker, str]]:
    def volts(terminal: str = "") -> FloatArray:
        return run.weighted(run.terminal_volts(device, terminal))

    def worst_volts() -> FloatArray:
        return run.worst(run.terminal_volts(device))

    def amps() -> FloatArray:
        found = main_amps(run, device)
        assert found is not None
        return run.weighted(found)

    def charge() -> FloatArray:
        name = charge_state(device)
        found = run.state(device.name, name) if name else None
        assert found is not None
        return found[1:]

    name = device.name
    made: dict[str, tuple[str, Maker, str]] = {
        f"{name}.voltage": ("V", worst_volts, "worst instant, all radios keyed"),
        f"{name}.mean_voltage": ("V", volts, MEAN),
    }
    if name in run.flows:
        made[f"{name}.current"] = ("A", amps, MEAN)
        made[f"{name}.power"] = ("W", lambda: run.weighted(device_power(run, device)), MEAN)
    if device.kind == "converter":
        for terminal in device.model.terminals:
            if isinstance(terminal, Terminal) and terminal.name != main_terminal(device):
                maker = partial(volts, terminal.name)
                made[f"{name}.{terminal.name}.voltage"] = ("V", maker, MEAN)
    if charge_state(device) is not None:
        made[f"{name}.charge"] = ("", charge, "share of rated charge, end of the step")
    return made


def main_amps(run: Run, device: Device) -> FloatArray | None:
    """Current (time, column) at the main terminal: what a load takes, what a source or a
    converter gives, what a store takes (negative when it gives); None for blocks."""
    flow = run.flows.get(device.name)
    if flow is None:
        return None
    terminals = [
        t.name for t in device.model.terminals if isinstance(t, Terminal) and not t.seeking
    ]
    giving = [t.name for t in device.model.terminals if isinstance(t, Terminal) and t.gives]
    if device.kind == "converter" and giving:
        return -flow.amps[terminals.index(giving[0])]
    amps = flow.amps[terminals.index(main_terminal(device))]
    return -amps if device.kind == "source" else amps


def device_power(run: Run, device: Device) -> FloatArray:
    """Power (time, column): a source's delivered, a load's taken, a store's taken less given, a
    converter's passed on."""
    flow = run.flows[device.name]
    if device.kind != "converter":
        return -flow.taken if device.kind == "source" else flow.taken
    terminals = [
        t.name for t in device.model.terminals if isinstance(t, Terminal) and not t.seeking
    ]
    total: FloatArray = np.zeros_like(flow.taken)
    for terminal in device.model.terminals:
        if isinstance(terminal, Terminal) and terminal.gives:
            place = terminals.index(terminal.name)
            total = total - flow.volts[place] * flow.amps[place]
    return total
