"""The verdict on tiny stations whose hours can be worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone

import numpy as np
import pytest
from support.runs import solved, station_from_text
from support.small_station import LAMP, LAMP_LEAD, PANEL, run_text, small_text

from copperpath.record.record import Verdict
from copperpath.record.run import Run
from copperpath.solver.solution import Outcome
from copperpath.study.executors import choose_executor
from copperpath.study.survival import survive
from copperpath.study.verdict import judge

CLOCK = timezone(timedelta(hours=3))
MINUTES = timedelta(minutes=1)
SUNNY = LAMP + LAMP_LEAD + PANEL
DULL_SECOND_DAY = "clear\n    sky 30 % of clear on 2026-06-20"


def at(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 6, day, hour, minute, tzinfo=CLOCK)


def verdict_of(text: str) -> Verdict:
    return run_text(text).verdict


def test_a_station_whose_days_return_holds() -> None:
    verdict = verdict_of(small_text(SUNNY, capacity="20 Ah", lasts="48 h"))
    assert verdict.word == "holds"
    assert (verdict.until, verdict.first_load, verdict.cause) == (None, None, None)
    assert verdict.what_ifs == ()


def test_a_battery_that_only_empties_lasts_and_says_until_when() -> None:
    """100 Ah at 0.5 A are 200 h, 8.33 days; 12 % a day."""
    verdict = verdict_of(small_text(capacity="100 Ah"))
    assert verdict.word == "lasts"
    assert verdict.drift_per_day == pytest.approx(-0.12, abs=1e-6)
    assert verdict.until is not None
    assert at(19, 8) + timedelta(hours=196) < verdict.until <= at(19, 8) + timedelta(hours=200)
    assert verdict.first_load == "lamp"
    assert "falls by 12 % of its rated charge on the last day" in verdict.sentence


def test_an_empty_battery_runs_down_with_time_load_and_cause() -> None:
    """2 Ah at 0.5 A are four hours; in the last minutes it rests below its cut-off."""
    verdict = verdict_of(small_text())
    assert verdict.word == "runs down"
    assert verdict.until is not None
    assert at(19, 11, 55) <= verdict.until <= at(19, 12)
    assert verdict.first_load == "lamp"
    assert verdict.cause == "the battery is too small"
    assert verdict.cutoff_at == verdict.until
    assert verdict.reserve_at is None


def test_a_battery_twice_as_large_is_said_to_gain_about_four_hours() -> None:
    gained = {each.change: each for each in verdict_of(small_text()).what_ifs}["twice the battery"]
    assert gained.gained_s is not None
    assert gained.gained_s / 3600.0 == pytest.approx(4.0, abs=0.1)
    assert not gained.turns


def test_reserve_and_cut_off_are_both_given_and_the_earlier_decides() -> None:
    """A quarter kept: after three hours; the cut-off after four."""
    verdict = verdict_of(small_text(pack="reserve 25 %"))
    assert verdict.word == "runs down"
    assert verdict.reserve_at is not None
    assert abs(verdict.reserve_at - at(19, 11)) <= MINUTES
    assert verdict.cutoff_at is not None
    assert at(19, 11, 55) <= verdict.cutoff_at <= at(19, 12)
    assert verdict.until == verdict.reserve_at
    assert "the reserve of `pack` is reached" in verdict.sentence


def test_a_load_that_is_short_for_a_single_step_is_lost() -> None:
    """20 A through 10 m of 1.5 mm² lose 5 V, at noon, for one minute."""
    pump = (
        "load pump : steady { current 20 A; on 12:00 to 12:01; works 10.5 V .. 15 V }\n"
        "cable pack -> pump { length 10 m; wire 1.5 mm2; fuse 30 A at pack }\n"
    )
    verdict = verdict_of(small_text(pump, capacity="100 Ah"))
    assert verdict.word == "runs down"
    assert verdict.until == at(19, 12)
    assert verdict.first_load == "pump"
    assert verdict.cause == "volts lost in the cables"
    turned = {each.change for each in verdict.what_ifs if each.turns}
    assert "cables of a tenth of the resistance" in turned
    assert "twice the battery" not in turned


def test_days_that_are_unlike_never_hold() -> None:
    unlike = small_text(SUNNY, capacity="20 Ah", lasts="48 h", sky=DULL_SECOND_DAY)
    verdict = verdict_of(unlike)
    assert verdict.word == "lasts"
    assert verdict.until is None
    assert "days that do not repeat cannot hold" in verdict.sentence


def test_unlike_days_that_repeat_can_hold() -> None:
    text = small_text(SUNNY, capacity="20 Ah", lasts="48 h", sky=DULL_SECOND_DAY, more="repeats")
    verdict = verdict_of(text)
    assert verdict.word == "holds"
    assert "repeats for ever" in verdict.sentence


def test_days_that_repeat_with_too_little_sun_end_after_the_stated_time() -> None:
    text = small_text(SUNNY, capacity="20 Ah", sky="10 % of clear", more="repeats")
    verdict = verdict_of(text)
    assert verdict.word == "lasts"
    assert verdict.until is not None
    assert at(20, 8) < verdict.until < at(23, 8)


def test_less_than_a_day_is_too_short_to_tell() -> None:
    verdict = verdict_of(small_text(capacity="100 Ah", lasts="12 h"))
    assert verdict.word == "lasts"
    assert verdict.until is None
    assert verdict.drift_per_day is None
    assert "too short to tell" in verdict.sentence


def two_lamps(first: str, second: str) -> str:
    loads = "".join(
        f"load {name} : steady {{ current 0.25 A; works 9 V .. 15 V{priority} }}\n"
        f"cable pack -> {name} {{ length 1 m; wire 1.5 mm2; fuse 3 A at pack }}\n"
        for name, priority in (("one", first), ("two", second))
    )
    return small_text(loads)


@pytest.mark.parametrize(
    ("first", "second", "goes"),
    [
        ("; priority 1", "; priority 3", "two"),
        ("; priority 3", "; priority 1", "one"),
        ("; priority 1", "", "two"),
        ("", "; priority 1", "one"),
    ],
)
def test_priorities_decide_which_load_goes_first(first: str, second: str, goes: str) -> None:
    assert verdict_of(two_lamps(first, second)).first_load == goes


def unsolved_at(run: Run, step: int) -> Run:
    """The same run with one operating point marked as not found."""
    outcome, volts = run.solution.outcome.copy(), run.solution.kept.copy()
    outcome[step, 0], volts[step, 0] = Outcome.NOT_SOLVED, np.nan
    return replace(run, solution=replace(run.solution, outcome=outcome, kept=volts))


def test_a_station_that_cannot_be_solved_is_unknown_and_no_number_is_given() -> None:
    run = unsolved_at(solved(station_from_text(small_text(lasts="2 h"))), 30)
    verdict = judge(run, choose_executor())
    assert verdict.word == "unknown"
    assert (verdict.until, verdict.first_load, verdict.cause) == (None, None, None)
    assert "no operating point was found on Fri 19 June 08:30" in verdict.sentence


def test_the_first_step_that_was_not_solved_is_found() -> None:
    run = solved(station_from_text(small_text(lasts="2 h")))
    assert survive(run).unsolved_step is None
    assert survive(unsolved_at(run, 7)).unsolved_step == 7


@pytest.mark.parametrize("step_s", [60.0, 300.0, 900.0])
def test_the_hour_it_runs_down_depends_on_the_step_by_no_more_than_a_step(step_s: float) -> None:
    until = run_text(small_text(), step_s).verdict.until
    assert until is not None
    assert abs(until - at(19, 12)) <= timedelta(seconds=step_s) + 5 * MINUTES
