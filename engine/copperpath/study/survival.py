"""When a load is first short, when a reserve is first reached: the facts behind a verdict."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import Latch
from copperpath.record.figures import powered_steps
from copperpath.record.run import Run, charge_state
from copperpath.record.side_traces import lowest_planned
from copperpath.solver.solution import Outcome
from copperpath.station import Device


@dataclass(frozen=True, slots=True)
class Survival:
    """When something first ends, in steps; None where it does not.

    `short_step` and `reserve_step` are whole steps; `short_at` and `reserve_at` the moments within
    them, by a straight line from the step before, or through the charge.
    """

    short_step: int | None
    short_at: float | None
    short_load: str | None
    reserve_step: int | None
    reserve_at: float | None
    reserve_store: str | None
    unsolved_step: int | None

    @property
    def end_step(self) -> int | None:
        """The earlier of a short load and a reached reserve."""
        steps = [step for step in (self.short_step, self.reserve_step) if step is not None]
        return min(steps) if steps else None

    @property
    def end_at(self) -> float | None:
        """The same as a moment."""
        moments = [at for at in (self.short_at, self.reserve_at) if at is not None]
        return min(moments) if moments else None


def survive(run: Run) -> Survival:
    """Look through a run."""
    short_step, short_load = _first_short(run)
    reserve_at, reserve_store = _first_reserve(run)
    failed = (run.solution.outcome == Outcome.NOT_SOLVED).any(axis=1)
    unsolved = int(np.argmax(failed)) if failed.any() else None
    return Survival(
        short_step,
        None if short_step is None or short_load is None else _moment(run, short_step, short_load),
        short_load,
        None if reserve_at is None else int(reserve_at),
        reserve_at,
        reserve_store,
        unsolved,
    )


def _moment(run: Run, step: int, load: str) -> float:
    """When a load became short: where a straight line from the step before crosses its least
    voltage, or the start of the step if anything was switched then."""
    device = run.problem.station.device(load)
    if step == 0 or device.model.powered is None or _switched(run, step):
        return float(step)
    terminal, parameter = device.model.powered
    volts = run.worst(run.terminal_volts(device, terminal))
    before, after = float(volts[step - 1]), float(volts[step])
    lowest = float(device.values[parameter])
    if not before > lowest > after:
        return float(step)
    return step - 1 + (before - lowest) / (before - after)


def _switched(run: Run, step: int) -> bool:
    """True if a schedule or a latch changed between a step and the one before."""
    first = 0
    for data in run.problem.main:
        model = data.slot.device.model
        names = [name for name in (model.demand, model.keying and model.keying.share) if name]
        for name in names:
            row = data.drives[data.shape.d_fields.index(name)]
            if row[step] != row[step - 1]:
                return True
        for place, state in enumerate(data.states):
            values = run.solution.states[:, first + place]
            if isinstance(state, Latch) and values[step] != values[step - 1]:
                return True
        first += len(data.states)
    return False


def _first_short(run: Run) -> tuple[int | None, str | None]:
    best: tuple[int, int, str] | None = None
    for device in run.problem.station.devices:
        steps = powered_steps(run, device)
        if steps is None:
            continue
        short = steps[0] & ~steps[1]
        if short.any():
            found = (int(np.argmax(short)), -device.rank, device.name)
            best = found if best is None else min(best, found)
    return (None, None) if best is None else (best[0], best[2])


def _first_reserve(run: Run) -> tuple[float | None, str | None]:
    best: tuple[float, str] | None = None
    for device in run.problem.station.devices:
        at = reserve_reached(run, device)
        if at is not None and (best is None or at < best[0]):
            best = (at, device.name)
    return (None, None) if best is None else best


def reserve_reached(run: Run, device: Device) -> float | None:
    """When the store's charge first comes down to its lowest planned one, in steps: current is
    even within a step, so charge goes in a straight line."""
    model, found, name = device.model, run.slot(device.name), charge_state(device)
    if model.lowest_planned is None or found is None or name is None:
        return None
    charge = run.state(device.name, name)
    assert charge is not None
    above = charge - lowest_planned(run, found[0], found[1])
    reached = above <= 1e-12
    if not reached.any():
        return None
    step = int(np.argmax(reached)) - 1
    if step < 0:
        return 0.0
    return step + float(min(above[step] / (above[step] - above[step + 1]), 1.0 - 1e-9))
