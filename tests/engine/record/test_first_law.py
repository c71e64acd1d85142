"""Energy is honest: powers balance at every step and column, and the ledger closes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from support.networks import chattering_station, random_station
from support.runs import (
    HERON_BOG,
    LARKFELL,
    ledger_of,
    solved,
    solved_file,
    station_from_file,
    station_from_text,
)
from support.seeded_faults import FAULTY, with_faulty, with_faulty_cable
from support.small_station import small_text

from copperpath.record.energy import LEAST_POWER_W
from copperpath.record.record import Ledger
from copperpath.record.run import Run
from copperpath.solver.solution import Outcome
from copperpath.station import Station

STEP_BOUND = 1e-9
"""Imbalance of a step and column against its largest power."""
CLOSING_BOUND = 1e-6
"""What the ledger leaves over, against the throughput."""
CLOSING_SEEN = 1e-8
"""What it must stay under in our own tests; 5e-12 is usual, 4e-9 the worst seen."""

EXAMPLES = (HERON_BOG, *sorted(LARKFELL.glob("*.station")))
STEPS_S = (60.0, 300.0, 600.0, 1800.0)


def assert_honest(run: Run) -> None:
    ledger = ledger_of(run)
    assert ledger.worst_step_share < STEP_BOUND
    # A nanojoule is for stations whose batteries give nothing: there is no throughput then.
    assert abs(ledger.residual) <= max(CLOSING_SEEN * ledger.throughput, 1e-9)
    terms = np.array(
        [
            ledger.loads,
            ledger.cables,
            ledger.converters,
            ledger.storage_loss,
            ledger.stored_change,
            ledger.leak,
            ledger.residual,
        ]
    )
    # Rounding of a sum over all steps of numbers that are each some kilojoules.
    assert terms.sum() == pytest.approx(ledger.sources, abs=1e-9 * max(ledger.throughput, 1.0))


def is_noticed(ledger: Ledger) -> bool:
    """True if both checks fail."""
    left_over = abs(ledger.residual) > CLOSING_BOUND * ledger.throughput
    return left_over and ledger.worst_step_share > STEP_BOUND


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_first_law_holds_on_every_example(path: Path) -> None:
    assert_honest(solved_file(path))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_balance_without_any_allowance_for_rounding(path: Path) -> None:
    run = solved_file(path)
    powers = run.powers
    largest = np.maximum(np.abs(powers.sources), np.abs(powers.loads))
    share = np.abs(powers.residual) / np.maximum(largest, LEAST_POWER_W)
    judged = (run.solution.outcome != Outcome.SKIPPED) & (largest > LEAST_POWER_W)
    assert share[judged].max() < STEP_BOUND


@pytest.mark.parametrize("seed", range(20))
def test_the_first_law_holds_on_random_stations(seed: int) -> None:
    step_s = STEPS_S[seed % len(STEPS_S)]
    assert_honest(solved(random_station(seed, 48, step_s), step_s))


@pytest.mark.parametrize("seed", range(10))
def test_the_first_law_holds_on_stations_that_chatter(seed: int) -> None:
    assert_honest(solved(chattering_station(seed, 72, 300.0), 300.0))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 400))
def test_the_first_law_holds_on_many_random_stations(seed: int) -> None:
    make = chattering_station if seed % 3 == 0 else random_station
    step_s = STEPS_S[seed % len(STEPS_S)]
    assert_honest(solved(make(seed, 96, step_s), step_s))


def test_every_step_and_column_that_was_solved_is_in_the_balance() -> None:
    run = solved_file(HERON_BOG)
    skipped = run.solution.outcome == Outcome.SKIPPED
    assert np.isfinite(run.powers.residual[~skipped]).all()
    assert np.all(run.problem.columns.weights[skipped] == 0.0)
    assert (~skipped).any(axis=1).all()


def test_no_step_of_the_example_is_spared_by_the_least_power_that_imbalances_are_held_against() -> (
    None
):
    run = solved_file(HERON_BOG)
    judged = run.solution.outcome != Outcome.SKIPPED
    assert np.all(run.powers.loads[judged] > LEAST_POWER_W)


@pytest.mark.parametrize("name", sorted(FAULTY))
@pytest.mark.parametrize(
    "path", [HERON_BOG, LARKFELL / "larkfell_spur.station"], ids=["bog", "spur"]
)
def test_a_device_that_counts_its_loss_one_percent_too_high_is_noticed(
    path: Path, name: str
) -> None:
    station = station_from_file(path)
    assert is_noticed(ledger_of(solved(with_faulty(station, name))))


def test_a_cable_that_counts_its_loss_one_percent_too_high_is_noticed() -> None:
    run = solved_file(HERON_BOG)
    losses = {f.branch.owner: float(f.heat.sum()) for f in run.branches if f.branch.is_cable}
    assert is_noticed(ledger_of(with_faulty_cable(run, max(losses, key=lambda name: losses[name]))))
    # The 0.2 m to the converter lose 8 mWh in three days, which no ledger shows, but a step does.
    for name in losses:
        assert ledger_of(with_faulty_cable(run, name)).worst_step_share > STEP_BOUND, name


def test_a_station_with_nothing_but_a_load_and_a_battery_closes_too() -> None:
    station = station_from_file(HERON_BOG)
    kept = ("pack", "rig")
    devices = tuple(device for device in station.devices if device.name in kept)
    cable = station.cables[3]
    bare: Station = replace(
        station,
        devices=devices,
        cables=(replace(cable, start=station.cables[2].start, name="pack -> rig"),),
        requirements=(),
    )
    run = solved(bare)
    assert_honest(run)
    ledger = ledger_of(run)
    assert ledger.sources == 0.0
    assert ledger.converters == 0.0
    assert ledger.stored_change < 0.0


def test_with_nothing_drawn_but_the_solver_s_leak_what_is_left_is_rounding() -> None:
    """After an hour all is off: a few microwatts flow, and 1e-10 W are the last digits of volts."""
    text = small_text(
        "block strip : strip { ways 2; rating 10 A }\n"
        "cable pack -> strip.in { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
        "load lamp : steady { current 0.5 A; on 08:00 to 09:00; works 9 V .. 15 V }\n"
        "cable strip.1 -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at strip }\n",
        lasts="3 h",
    )
    run = solved(station_from_text(text))
    at_rest = np.abs(run.powers.loads) < 1e-5
    assert at_rest.sum() == 120
    assert np.abs(run.powers.residual[at_rest]).max() < 1e-10
    assert_honest(run)
