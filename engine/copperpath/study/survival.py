"""When a load is first short, when a reserve is first reached: the facts behind a verdict."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.record.figures import powered_steps
from copperpath.record.run import Run, charge_state
from copperpath.solver.laws import law_inputs
from copperpath.solver.problem import SlotData
from copperpath.solver.solution import Outcome
from copperpath.station import Device


@dataclass(frozen=True, slots=True)
class Survival:
    """First steps at which something ends; None where it does not."""

    short_step: int | None
    short_load: str | None
    reserve_step: int | None
    reserve_store: str | None
    unsolved_step: int | None

    @property
    def end_step(self) -> int | None:
        """The earlier of a short load and a reached reserve."""
        steps = [step for step in (self.short_step, self.reserve_step) if step is not None]
        return min(steps) if steps else None


def survive(run: Run) -> Survival:
    """Look through a run."""
    short_step, short_load = _first_short(run)
    reserve_step, reserve_store = _first_reserve(run)
    failed = (run.solution.outcome == Outcome.NOT_SOLVED).any(axis=1)
    unsolved = int(np.argmax(failed)) if failed.any() else None
    return Survival(short_step, short_load, reserve_step, reserve_store, unsolved)


def shed_order(device: Device) -> tuple[int, int]:
    """Sorts loads by which is given up first: the highest priority number first (priority 1 is
    shed last); loads without a priority before those with one."""
    return (0, 0) if device.priority is None else (1, -device.priority)


def _first_short(run: Run) -> tuple[int | None, str | None]:
    best: tuple[int, tuple[int, int], str] | None = None
    for device in run.problem.station.devices:
        steps = powered_steps(run, device)
        if steps is None:
            continue
        short = steps[0] & ~steps[1]
        if short.any():
            found = (int(np.argmax(short)), shed_order(device), device.name)
            best = found if best is None else min(best, found)
    return (None, None) if best is None else (best[0], best[2])


def _first_reserve(run: Run) -> tuple[int | None, str | None]:
    best: tuple[int, str] | None = None
    for device in run.problem.station.devices:
        step = reserve_reached(run, device)
        if step is not None and (best is None or step < best[0]):
            best = (step, device.name)
    return (None, None) if best is None else best


def reserve_reached(run: Run, device: Device) -> int | None:
    """First step at whose end the store's charge is at or below its lowest planned one."""
    model, found, name = device.model, run.slot(device.name), charge_state(device)
    if model.lowest_planned is None or found is None or name is None:
        return None
    charge = run.state(device.name, name)
    assert charge is not None
    reached = charge <= lowest_planned(run, found[0], found[1]) + 1e-12
    if not reached.any():
        return None
    return max(int(np.argmax(reached)) - 1, 0)


def lowest_planned(run: Run, data: SlotData, first: int) -> np.ndarray:
    """Charge at which the reserve is reached, at each step's start and at the end (time + 1,)."""
    states = [run.solution.states[:, first + k] for k in range(len(data.states))]
    volts = [0.0] * len(data.shape.v_fields)
    _, x, _, p = law_inputs(data, volts, states, [0.0] * len(data.shape.d_fields))
    planned = data.slot.device.model.lowest_planned(x, p)
    return np.broadcast_to(planned, run.solution.states.shape[:1])
