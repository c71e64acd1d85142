"""Small stations solved by both executors, and what a device remembered over the run."""

from __future__ import annotations

from functools import cache

import numpy as np
from support.networks import problem_of
from support.runs import station_from_text

from copperpath.plugin_api import FloatArray
from copperpath.record.run import Run, make_run
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.solution import Outcome
from copperpath.solver.twin import solve_twin

AGREE = 1e-8
"""Volts and states by which the executors may differ: what both promise."""


@cache
def solved_by_both(text: str, step_s: float = 60.0) -> Run:
    """The compiled loop's run of a text without mistakes; the numpy twin found the same."""
    problem = problem_of(station_from_text(text), step_s)
    compiled, twin = solve_compiled(problem), solve_twin(problem)
    assert Outcome.NOT_SOLVED not in compiled.outcome
    np.testing.assert_allclose(compiled.states, twin.states, rtol=AGREE, atol=AGREE)
    np.testing.assert_allclose(compiled.volts, twin.volts, rtol=0.0, atol=AGREE)
    return make_run(problem, compiled)


def remembered(run: Run, device: str, state: str) -> FloatArray:
    """A state at the start of each step and at the end of the last (time + 1,)."""
    found = run.slot(device)
    assert found is not None
    data, first = found
    place = [each.name for each in data.states].index(state)
    series: FloatArray = run.solution.states[:, first + place]
    return series


def volts_at(run: Run, device: str, terminal: str) -> FloatArray:
    """Voltage at a terminal in the mean column (time,)."""
    column = run.problem.columns.mean
    volts: FloatArray = run.terminal_volts(run.problem.station.device(device), terminal)[:, column]
    return volts


def amps_into(run: Run, device: str, place: int = 0) -> FloatArray:
    """Current into a device at its terminal of that place, in the mean column (time,)."""
    amps: FloatArray = run.flows[device].amps[place][:, run.problem.columns.mean]
    return amps


def first_time(happened: np.ndarray) -> int:
    """The first step at which something is so; it must be so at some step."""
    assert happened.any()
    return int(np.argmax(happened))


def imbalance(run: Run) -> float:
    """Largest imbalance of the first law in any step, as a share of its largest power."""
    from copperpath.record.energy import worst_imbalance

    return worst_imbalance(run.powers, run.solution)
