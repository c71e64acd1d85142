"""Energy in store two ways: what the charge says, and the integral of rest voltage times current.

They differ by the length of the step only, as rest voltage is taken at the start of each step:
half the step, half the difference.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from support.runs import HERON_BOG, LARKFELL, ledger_of, solved, station_from_file

from copperpath.record.run import Run, charge_state

STEPS_S = (600.0, 300.0, 150.0, 75.0)


def contents_change(run: Run) -> float:
    """Energy held at the end less that at the start, by the charge alone, all stores [J]."""
    total = 0.0
    for device in run.problem.station.devices:
        name, found = charge_state(device), run.slot(device.name)
        if name is None or found is None:
            continue
        charge = run.state(device.name, name)
        assert charge is not None
        held = device.model.contents(charge, found[0].shape.p_type(*found[0].parameters))
        total += float(held[-1] - held[0])
    return total


def gaps(path: Path, steps_s: tuple[float, ...], start: float | None = None) -> list[float]:
    """Difference of the two at each length of step [J]."""
    station = station_from_file(path)
    if start is not None:
        devices = tuple(
            replace(device, values={**device.values, "charge": start})
            if device.kind == "storage"
            else device
            for device in station.devices
        )
        station = replace(station, devices=devices)
    runs = [solved(station, step_s) for step_s in steps_s]
    return [contents_change(run) - ledger_of(run).stored_change for run in runs]


def assert_first_order(found: list[float]) -> None:
    for coarse, fine in pairwise(found):
        order = np.log2(abs(coarse / fine))
        assert 0.9 < order < 1.1, found


def test_the_two_agree_better_as_the_step_is_halved_on_a_battery_that_never_fills() -> None:
    found = gaps(LARKFELL / "bigger_battery.station", STEPS_S, start=0.8)
    assert_first_order(found)
    assert abs(found[-1]) < 0.01 * 3600.0


@pytest.mark.parametrize(
    "path", [HERON_BOG, LARKFELL / "larkfell_spur.station"], ids=["bog", "spur"]
)
def test_so_do_they_on_batteries_that_fill_and_empty_with_steps_of_five_minutes_or_less(
    path: Path,
) -> None:
    found = gaps(path, STEPS_S[1:])
    assert_first_order(found)
    assert abs(found[-1]) < 0.01 * 3600.0


def test_what_is_held_is_the_area_under_the_rest_voltage() -> None:
    from copperpath_plugins.storage.lfp import LithiumIronPhosphate, rest_voltage

    run = solved(station_from_file(HERON_BOG), 3600.0)
    data, _ = run.slot("pack") or pytest.fail("no slot")
    p = data.shape.p_type(*data.parameters)
    charges = np.linspace(0.0, 1.0, 20_001)
    middles = 0.5 * (charges[1:] + charges[:-1])
    at_rest = rest_voltage(data.shape.x_type(middles, 298.15, 0.0, 0.0, 0.0), p)
    area = float(np.sum(at_rest) * (charges[1] - charges[0]) * p.capacity)
    ends = LithiumIronPhosphate.contents(np.array([0.0, 1.0]), p)
    assert float(ends[1] - ends[0]) == pytest.approx(area, rel=1e-6)
