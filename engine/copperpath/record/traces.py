"""Every recorded quantity over time, by name."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from copperpath.plugin_api import FloatArray, Terminal
from copperpath.record.record import Trace
from copperpath.record.run import Run, charge_state, main_terminal
from copperpath.station import Device

Adder = Callable[[str, str, FloatArray, str], None]
"""Takes a trace's name, unit, values and meaning."""

DUST = 1e-12
"""Figures smaller than this (V, A, W) are rounding, and shown as nothing."""


def make_traces(run: Run) -> dict[str, Trace]:
    """Voltages, worst voltages, currents, powers, charges and cable currents."""
    made: dict[str, Trace] = {}

    def add(name: str, unit: str, values: FloatArray, meaning: str) -> None:
        array = np.where(np.abs(values) < DUST, 0.0, values).astype(np.float64)
        array.flags.writeable = False
        made[name] = Trace(name, unit, array, meaning)

    for device in run.problem.station.devices:
        volts = run.terminal_volts(device)
        add(f"{device.name}.voltage", "V", run.worst(volts), "worst instant, all radios keyed")
        add(f"{device.name}.mean_voltage", "V", run.weighted(volts), "mean over the key states")
        amps = main_amps(run, device)
        if amps is not None:
            add(f"{device.name}.current", "A", run.weighted(amps), "mean over the key states")
            power = device_power(run, device)
            add(f"{device.name}.power", "W", run.weighted(power), "mean over the key states")
        if device.kind == "converter":
            _converter_sides(run, device, add)
        name = charge_state(device)
        charge = run.state(device.name, name) if name else None
        if charge is not None:
            add(f"{device.name}.charge", "", charge[1:], "share of rated charge, end of the step")
    for flow in run.branches:
        if flow.branch.is_cable:
            meaning = "mean over the key states, from start to end"
            add(f"{flow.branch.owner}.current", "A", run.weighted(flow.amps), meaning)
    return made


def _converter_sides(run: Run, device: Device, add: Adder) -> None:
    for terminal in device.model.terminals:
        if isinstance(terminal, Terminal) and terminal.name != main_terminal(device):
            volts = run.weighted(run.terminal_volts(device, terminal.name))
            name = f"{device.name}.{terminal.name}.voltage"
            add(name, "V", volts, "mean over the key states")


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
