"""Random stations of the devices that switch: both executors, the first law, and that the events
which the devices are for really happen in them."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from support.device_runs import imbalance
from support.hard_stations import hard_station
from support.networks import problem_of

from copperpath.plugin_api import Latch
from copperpath.record.run import make_run
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.solution import Outcome
from copperpath.solver.twin import solve_twin

STEP_S = 300.0
EVENTS = (
    "disconnect.open",
    "disconnect.open_keyed",
    "fuse.blown",
    "lfp.empty",
    "lfp.locked",
    "mppt_charger.floating",
    "pwm_charger.awake",
    "pwm_charger.floating",
    "mains_charger.floating",
    "dc_charger.running",
    "dc_charger.floating",
    "generator.called",
    "generator.dry",
    "inverter.off",
    "heater.heating",
)


@pytest.mark.parametrize("seed", range(12))
def test_both_executors_agree_and_the_account_closes(seed: int) -> None:
    problem = problem_of(hard_station(seed, 36), STEP_S)
    compiled, twin = solve_compiled(problem), solve_twin(problem)
    assert Outcome.NOT_SOLVED not in compiled.outcome
    np.testing.assert_allclose(compiled.volts, twin.volts, rtol=0.0, atol=1e-8)
    np.testing.assert_allclose(compiled.states, twin.states, rtol=0.0, atol=1e-8)
    assert imbalance(make_run(problem, compiled)) < 1e-6


def test_every_event_happens_in_some_of_a_hundred_stations() -> None:
    seen: Counter[str] = Counter()
    for seed in range(100):
        problem = problem_of(hard_station(seed), STEP_S)
        states = solve_compiled(problem).states
        columns = iter(states.T)
        for data in problem.main:
            for state in data.states:
                changes = np.diff(next(columns)) != 0.0
                if isinstance(state, Latch) and changes.any():
                    seen[f"{data.slot.device.model.name}.{state.name}"] += 1
    assert [event for event in EVENTS if seen[event] == 0] == []


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 200))
def test_both_executors_agree_over_longer_runs(seed: int) -> None:
    problem = problem_of(hard_station(seed, 144), STEP_S)
    compiled, twin = solve_compiled(problem), solve_twin(problem)
    np.testing.assert_allclose(compiled.volts, twin.volts, rtol=0.0, atol=1e-8)
    np.testing.assert_allclose(compiled.states, twin.states, rtol=0.0, atol=1e-8)
