"""Larkfell Spur: the engine against figures worked by hand beforehand.

Source: worked by hand in the project's own design brief, "figures ours"; no measurement. Tolerances
are stated beside each figure, with what the hand work leaves out.
"""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pytest
from support.runs import LARKFELL, record_of, solved, solved_file, station_from_text

from copperpath.plugin_api import FloatArray
from copperpath.record.run import Run
from copperpath.solver.constants import OFFER_POINTS
from copperpath.study.survival import survive
from copperpath_plugins.storage.lfp import rest_voltage

CLOCK = timezone(timedelta(hours=1))
SPUR = LARKFELL / "larkfell_spur.station"
COLD = LARKFELL / "left_in_the_cold.station"
BIGGER = LARKFELL / "bigger_battery.station"
DAY_STEPS = 1440
HAND_IN_V = 13.3
PLANNED_FLOOR = 0.15 + 0.10 * 0.85
"""Carried warm, 85 % can be drawn, of which a tenth is kept; shares of the rated charge."""


def moment(day: int, hour: int, minute: int) -> datetime:
    return datetime(2026, 3, day, hour, minute, tzinfo=CLOCK)


def test_the_spur_runs_down_on_30_march_at_12_20_within_an_hour() -> None:
    verdict = record_of(SPUR).verdict
    assert verdict.word == "runs down"
    assert verdict.until is not None
    assert abs(verdict.until - moment(30, 12, 20)) <= timedelta(hours=1)


def test_left_in_the_cold_it_runs_down_on_29_march_at_19_10_within_an_hour() -> None:
    verdict = record_of(COLD).verdict
    assert verdict.word == "runs down"
    assert verdict.until is not None
    assert abs(verdict.until - moment(29, 19, 10)) <= timedelta(hours=1)


def test_the_cause_in_the_cold_is_blocked_charging() -> None:
    assert "charging blocked by cold" in (record_of(COLD).verdict.cause or "")


def test_the_cause_of_the_warm_pack_is_not() -> None:
    assert "cold" not in (record_of(SPUR).verdict.cause or "")


def test_in_the_cold_the_battery_takes_nothing_and_the_panel_still_carries_the_loads() -> None:
    run = solved_file(COLD)
    taken = run.weighted(run.flows["pack"].amps[0])
    assert taken.max() <= 1e-9
    noon = (moment(28, 12, 0) - run.when(0)) // timedelta(minutes=1)
    # Only what the keyed moments ask beyond the sun, out of 0.45 A of the rig alone.
    assert abs(taken[noon]) < 0.05
    wanted = run.wanted(run.problem.station.device("rig"))
    assert wanted is not None
    assert wanted[noon] == 1.0


def dark(path: Path, *changes: tuple[str, str], hours: int = 72) -> Run:
    """The same station with no sun at all and a few words changed."""
    text = path.read_text(encoding="utf-8")
    sky = ('sky    "sun.csv"', "sky    0 % of clear")
    for before, after in (sky, ("lasts  72 h", f"lasts  {hours} h"), *changes):
        assert text.count(before) == 1, before
        text = text.replace(before, after)
    return solved(station_from_text(text))


def keyed_volts(run: Run) -> tuple[FloatArray, FloatArray]:
    """Keyed volts at the rig and volts of the pack at rest, while the rig is on [V]."""
    rig, (data, first) = run.problem.station.device("rig"), run.slot("pack") or (None, 0)
    wanted = run.wanted(rig)
    assert data is not None
    assert wanted is not None
    states = [run.solution.states[:-1, first + place] for place in range(len(data.states))]
    at_rest = rest_voltage(data.shape.x_type(*states), data.shape.p_type(*data.parameters))
    on = wanted > 0.0
    return run.worst(run.terminal_volts(rig))[on], at_rest[on]


def test_keyed_volts_are_12_5_to_12_7_on_the_dark_day_while_the_pack_rests_at_13_0() -> None:
    """12.6 V by hand, from 13.0 V at rest."""
    keyed, at_rest = keyed_volts(solved_file(SPUR))
    near = np.abs(at_rest - 13.0) < 0.03
    assert near.any()
    assert keyed[near].min() >= 12.5
    assert keyed[near].max() <= 12.7


def test_keyed_volts_are_12_5_to_12_7_from_a_third_full_pack_without_any_sun() -> None:
    run = dark(SPUR, ("charge 100 %", "charge 34 %"), hours=5)
    keyed, at_rest = keyed_volts(run)
    charge = run.state("pack", "charge")
    assert charge is not None
    assert charge[-1] == pytest.approx(0.285, abs=0.03)
    assert at_rest.mean() == pytest.approx(13.0, abs=0.04)
    assert keyed.min() >= 12.5
    assert keyed.max() <= 12.7


def ampere_hours(amps: FloatArray, day: int) -> float:
    """Over one day of the run, counted from 0 [Ah]."""
    return float(amps[day * DAY_STEPS : (day + 1) * DAY_STEPS].sum()) / 60.0


def test_a_day_takes_8_0_ampere_hours_out_of_the_bus() -> None:
    """By hand at 13.2 V: radio 4.54, off 0.07, tablet 1.55, tracker 1.56, controller 0.29 Ah.

    Within 2 %: the bus is at 13.0 to 13.4 V, and the hand work has no cable behind a converter.
    """
    run = solved_file(BIGGER)
    for day in (1, 2):
        parts = {
            name: ampere_hours(run.weighted(run.flows[name].amps[0]), day)
            for name in ("rig", "fiver", "beacon")
        }
        parts["controller"] = 0.012 * 24.0
        assert parts["rig"] == pytest.approx(4.54 + 0.07, rel=0.005)
        assert parts["fiver"] == pytest.approx(1.55, rel=0.04)
        assert parts["beacon"] == pytest.approx(1.56, rel=0.04)
        assert sum(parts.values()) == pytest.approx(8.0, rel=0.02)


@pytest.mark.parametrize(
    ("day", "by_hand", "within"),
    [(0, 17.1, 0.02), (1, 3.4, 0.02), (2, 1.2, 0.08)],
    ids=["clear", "dull", "dark"],
)
def test_the_panel_offers_17_1_then_3_4_then_1_2_ampere_hours(
    day: int, by_hand: float, within: float
) -> None:
    """At the controller, times its 94 %, at 13.3 V; spilt on the first day, when the pack is full.

    The hand work lets power fall with light alone. A panel's voltage falls too in faint light, so
    the dark day gives a few percent less than by hand.
    """
    points = solved_file(BIGGER).solution.points[:, 0, OFFER_POINTS:]
    offered_wh = ampere_hours(points.max(axis=1), day)
    assert offered_wh * 0.94 / HAND_IN_V == pytest.approx(by_hand, rel=within)


@pytest.mark.parametrize(("day", "usable_ah"), [(29, 6.0), (30, 1.4)])
def test_usable_charge_at_midnight_is_that_worked_by_hand(day: int, usable_ah: float) -> None:
    """Within 0.2 Ah, above the floor and the reserve of a 12 Ah pack."""
    run = solved_file(SPUR)
    charge = run.state("pack", "charge")
    assert charge is not None
    step = (moment(day, 0, 0) - run.when(0)) // timedelta(minutes=1)
    assert (charge[step] - PLANNED_FLOOR) * 12.0 == pytest.approx(usable_ah, abs=0.2)


def test_without_any_sun_a_full_pack_lasts_29_6_hours_within_an_hour() -> None:
    end = survive(dark(SPUR)).end_step
    assert end is not None
    assert end / 60.0 == pytest.approx(29.6, abs=1.0)


def test_without_any_sun_a_cold_pack_lasts_13_9_hours_within_an_hour() -> None:
    end = survive(dark(COLD)).end_step
    assert end is not None
    assert end / 60.0 == pytest.approx(13.9, abs=1.0)


def test_the_tracker_off_at_night_gains_only_about_three_hours() -> None:
    base = survive(solved_file(SPUR)).end_step
    quieter = survive(solved_file(LARKFELL / "tracker_off_at_night.station")).end_step
    assert base is not None
    assert quieter is not None
    assert (quieter - base) / 60.0 == pytest.approx(3.0, abs=1.0)


def test_twenty_ampere_hours_last() -> None:
    record = record_of(BIGGER)
    assert record.verdict.word == "lasts"
    assert record.verdict.first_load is None
    assert all(result.met for result in record.base.requirements)


@pytest.mark.parametrize(
    ("name", "left_ah"),
    [("bigger_battery", 0.2), ("bigger_battery_tracker_off", 2.2)],
)
def test_what_twenty_ampere_hours_leave_is_that_worked_by_hand(name: str, left_ah: float) -> None:
    """Within 0.3 Ah of the 17 that can be drawn."""
    charge = solved_file(LARKFELL / f"{name}.station").state("pack", "charge")
    assert charge is not None
    assert (charge[-1] - PLANNED_FLOOR) * 20.0 == pytest.approx(left_ah, abs=0.3)
