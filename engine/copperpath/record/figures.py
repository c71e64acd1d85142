"""Figures of each device and cable over a run."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.record.energy import BranchFlow
from copperpath.record.record import CableFigures, DeviceFigures
from copperpath.record.run import Run, charge_state
from copperpath.record.traces import DUST, device_power, main_amps
from copperpath.station import Cable, Device


def powered_steps(run: Run, device: Device) -> tuple[BoolArray, BoolArray] | None:
    """For a load: (wanted, wanted and at or above its lowest voltage even with all radios
    keyed, or carried by its own battery), each (time,); None for everything else."""
    wanted = run.wanted(device)
    if wanted is None or device.model.powered is None:
        return None
    terminal, parameter = device.model.powered
    volts = run.worst(run.terminal_volts(device, terminal))
    is_wanted = wanted > 0.0
    enough = volts >= float(device.values[parameter])
    plugged, carried = own_battery_steps(run, device)
    return is_wanted, is_wanted & ((enough & plugged) | carried)


def own_battery_steps(run: Run, device: Device) -> tuple[BoolArray, BoolArray]:
    """Whether a load is plugged in, and whether its own battery lasts through the step, each
    (time,); always the one and never the other for a load without one."""
    found, bridged = run.slot(device.name), device.model.bridged
    if found is None or bridged is None:
        steps = run.problem.steps
        return np.ones(steps, dtype=bool), np.zeros(steps, dtype=bool)
    own = run.state(device.name, bridged[0])
    assert own is not None
    drive = found[0].drives[found[0].shape.d_fields.index(bridged[1])]
    return np.asarray(drive > 0.0), np.asarray(own[1:] > 0.0)


def device_figures(run: Run, device: Device) -> DeviceFigures:
    """Figures of one device."""
    volts = run.terminal_volts(device)
    mean, worst = run.weighted(volts), run.worst(volts)
    amps = main_amps(run, device)
    energy, current = 0.0, (0.0, 0.0, 0.0)
    if amps is not None:
        energy = run.energy(run.weighted(device_power(run, device)))
        current = _current(run, amps)
    steps = powered_steps(run, device)
    relevant = np.ones(len(mean), dtype=bool) if steps is None else steps[0]
    relevant = relevant & ~own_battery_steps(run, device)[1]
    lowest = _lowest(worst, relevant)
    name = charge_state(device)
    charge = run.state(device.name, name) if name else None
    return DeviceFigures(
        device.name,
        device.model.name,
        device.kind,
        energy,
        _clean(float(np.nanmin(mean))),
        run.mean(mean),
        float(np.nanmax(mean)),
        float("nan") if lowest is None else float(worst[lowest]),
        None if lowest is None else run.when(lowest),
        *current,
        None if steps is None else run.seconds(steps[1]),
        None if steps is None else run.seconds(steps[0]),
        None if charge is None else float(charge.min()),
        None if charge is None else float(charge.max()),
        None if charge is None else float(charge[-1]),
    )


def _clean(value: float) -> float:
    """Zero for what is only rounding."""
    return 0.0 if abs(value) < DUST else value


def _lowest(worst: FloatArray, relevant: BoolArray) -> int | None:
    masked = np.where(relevant & np.isfinite(worst), worst, np.inf)
    place = int(np.argmin(masked))
    return place if np.isfinite(masked[place]) else None


def _current(run: Run, amps: FloatArray) -> tuple[float, float, float]:
    mean = run.mean(run.weighted(amps))
    square = run.mean(run.weighted(amps**2))
    largest = float(np.nanmax(np.abs(_possible(run, amps))))
    return mean, float(np.sqrt(max(square, 0.0))), largest


def _possible(run: Run, values: FloatArray) -> FloatArray:
    """Values in the columns that can really occur (weight above zero, or the worst instant)."""
    columns = run.problem.columns
    possible = columns.weights > 0.0
    possible[:, columns.worst :] = True
    return np.where(possible, values, np.nan)


def cable_figures(run: Run, cable: Cable) -> CableFigures:
    """Figures of one cable."""
    flow = next(f for f in run.branches if f.branch.is_cable and f.branch.owner == cable.name)
    drop, share = _worst_drop(run, flow)
    square = run.mean(run.weighted(flow.amps**2))
    return CableFigures(
        cable.name,
        str(cable.start),
        str(cable.end),
        cable.wire,
        cable.length_m,
        min((fuse.rating_a for fuse in cable.fuses), default=None),
        flow.branch.ohm,
        run.energy(run.weighted(flow.heat)),
        float(np.nanmax(np.abs(_possible(run, flow.amps)))),
        float(np.sqrt(max(square, 0.0))),
        drop,
        share,
    )


def _worst_drop(run: Run, flow: BranchFlow) -> tuple[float, float]:
    drops = _possible(run, np.abs(flow.drop))
    if not np.isfinite(drops).any():
        return float("nan"), float("nan")
    place = np.unravel_index(int(np.nanargmax(drops)), drops.shape)
    feeding = max(float(flow.start_v[place]), float(flow.end_v[place]))
    drop = float(drops[place])
    return drop, drop / feeding if feeding > 0.0 else 0.0
