"""Each kind of requirement met, not met and unknown, with figure, margin and time in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone

import numpy as np
import pytest
from support.runs import solved, station_from_text
from support.small_station import LAMP, LAMP_LEAD, run_text, small_text

from copperpath.record.record import RequirementResult
from copperpath.record.traces import make_traces
from copperpath.solver.solution import Outcome
from copperpath.study.executors import choose_executor
from copperpath.study.requirements import Evidence, judge_requirement
from copperpath.study.verdict import judge

CLOCK = timezone(timedelta(hours=3))
STRIP = (
    "block strip : strip { ways 2; rating 10 A }\n"
    "cable pack -> strip.in { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
    "cable strip.1 -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at strip }\n"
)
HEAVY_LAMP = LAMP.replace("works", "mass 2 kg; works")
WEIGHED = HEAVY_LAMP + LAMP_LEAD
UNMEASURED = WEIGHED.replace("length 1 m; wire", "wire")


def results(requirements: list[str], rest: str = LAMP + LAMP_LEAD) -> dict[str, RequirementResult]:
    """Each requirement's result on the station that runs down after four hours."""
    lines = "".join(f"require {each}\n" for each in requirements)
    return {each.text: each for each in run_text(small_text(rest + lines)).base.requirements}


def result(requirement: str, rest: str = LAMP + LAMP_LEAD) -> RequirementResult:
    return results([requirement], rest)[requirement]


MET = (
    "lamp powered for 3 h",
    "lamp.voltage <= 14 V",
    "lamp.mean_voltage <= 14 V",
    "lamp.current <= 1 A",
    "lamp.power <= 7 W",
    "lamp.energy >= 25 Wh",
    "pack.charge <= 100 %",
)
NOT_MET = (
    "holds",
    "lamp powered throughout",
    "lamp powered for 5 h",
    "lamp.voltage >= 10.5 V",
    "lamp.mean_voltage >= 10.5 V",
    "lamp.current <= 0.4 A",
    "lamp.power <= 5 W",
    "lamp.energy >= 27 Wh",
    "pack.charge >= 20 %",
)


def test_requirements_that_are_met_say_so() -> None:
    found = results(list(MET))
    assert {text: each.met for text, each in found.items()} == dict.fromkeys(MET, True)


def test_requirements_that_are_not_met_say_so() -> None:
    found = results(list(NOT_MET))
    assert {text: each.met for text, each in found.items()} == dict.fromkeys(NOT_MET, False)


def test_a_figure_comes_with_its_limit_margin_and_time() -> None:
    found = result("lamp.voltage <= 14 V")
    assert found.value == pytest.approx(13.56, abs=0.005)
    assert found.limit == 14.0
    assert found.unit == "V"
    assert found.at == datetime(2026, 6, 19, 8, 0, tzinfo=CLOCK)
    assert found.words == "highest 13.56 V, margin 0.44 V, Fri 19 June 08:00"


def test_a_requirement_that_is_not_met_says_by_how_much_it_misses() -> None:
    found = result("lamp.power <= 5 W")
    assert found.words == "highest 6.78 W, misses by 1.78 W, Fri 19 June 08:00"


def test_powered_throughout_names_the_time_it_is_first_short_and_what_is_missing() -> None:
    found = result("lamp powered throughout")
    assert found.at is not None
    assert found.words.startswith("short from Fri 19 June 11:5")
    assert "20.0 h missing" in found.words
    assert found.value == pytest.approx(4 * 3600.0, abs=300.0)


def test_powered_for_some_hours_counts_those_hours_alone() -> None:
    met, missed = (
        results(["lamp powered for 3 h", "lamp powered for 5 h"])[f"lamp powered for {hours} h"]
        for hours in (3, 5)
    )
    assert met.words == "powered for all of its 3.0 h"
    assert met.value == 3 * 3600.0
    assert "1.0 h missing" in missed.words


def test_powered_for_less_than_a_step_looks_at_that_step() -> None:
    found = result("lamp powered for 10 s", LAMP.replace("9 V", "14 V") + LAMP_LEAD)
    assert found.met is False


def test_energy_is_that_of_the_whole_run_in_watt_hours() -> None:
    found = result("lamp.energy >= 25 Wh")
    assert found.unit == "J"
    assert found.limit == 25 * 3600.0
    assert found.words.startswith("25.7 Wh, margin 0.7")


def test_a_mass_with_items_left_out_is_unknown() -> None:
    found = result("mass <= 6 kg", WEIGHED)
    assert found.met is None
    assert found.words == "at least 2.04 kg; 1 item has no mass (`pack`)"


def test_several_items_without_mass_are_counted() -> None:
    found = result("mass <= 6 kg", STRIP + HEAVY_LAMP)
    assert found.met is None
    assert found.words.endswith("2 items have no mass (`pack`, `strip`)")


def test_a_mass_too_large_already_is_not_met_whatever_is_left_out() -> None:
    found = result("mass <= 1 kg", WEIGHED)
    assert found.met is False
    assert found.words == "2.04 kg, misses by 1.04 kg"


def test_a_mass_large_enough_already_is_met_whatever_is_left_out() -> None:
    assert result("mass >= 1 kg", WEIGHED).met is True
    assert result("mass >= 3 kg", WEIGHED).met is None


def test_a_mass_with_every_item_is_judged() -> None:
    text = small_text(WEIGHED + "require mass <= 3.5 kg\n", pack="mass 1 kg")
    found = run_text(text).base.requirements[0]
    assert found.met is True
    assert found.words == "3.04 kg, margin 0.457 kg"


def test_what_is_not_recorded_is_unknown() -> None:
    found = result("strip.current <= 5 A", STRIP + LAMP)
    assert found.met is None
    assert found.words == "nothing is recorded as `strip.current`"


def test_a_voltage_counts_only_while_the_load_is_wanted() -> None:
    early = LAMP.replace("works", "on 08:00 to 10:00; works") + LAMP_LEAD
    drain = (
        "load heater : steady { current 0.4 A; works 9 V .. 15 V }\n"
        "cable pack -> heater { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
    )
    found = result("lamp.voltage >= 12 V", early + drain)
    assert found.met is True
    assert found.at is not None
    assert found.at < datetime(2026, 6, 19, 10, 0, tzinfo=CLOCK)


@pytest.mark.parametrize(
    ("requirement", "met"),
    [
        ("lamp powered throughout", None),
        ("lamp powered for 10 min", True),
        ("lamp.voltage >= 10.5 V", None),
        ("lamp.voltage >= 13.9 V", False),
        ("lamp.energy >= 1 Wh", None),
        ("holds", False),
    ],
)
def test_steps_without_an_operating_point_make_what_is_not_yet_missed_unknown(
    requirement: str, met: bool | None
) -> None:
    text = small_text(LAMP + LAMP_LEAD + f"require {requirement}\n", lasts="2 h")
    run = solved(station_from_text(text))
    outcome, volts = run.solution.outcome.copy(), run.solution.kept.copy()
    outcome[30], volts[30] = Outcome.NOT_SOLVED, np.nan
    run = replace(run, solution=replace(run.solution, outcome=outcome, kept=volts))
    evidence = Evidence(run, judge(run, choose_executor()), make_traces(run))
    found = judge_requirement(run.problem.station.requirements[0], evidence)
    assert found.met is met
    if met is None:
        assert found.words.startswith("no operating point was found on Fri 19 June 08:30")


def test_a_cable_without_its_length_has_no_mass_either() -> None:
    text = small_text(UNMEASURED + "require mass <= 60 kg\n", pack="mass 3 kg")
    (found,) = run_text(text).base.requirements
    assert found.met is None
    assert found.words == "at least 5 kg; 1 item has no mass (`pack -> lamp`)"


@pytest.mark.parametrize(
    ("requirement", "words"),
    [
        ("mass <= 10 lb", "at least 4.5 lb; 1 item has no mass (`pack`)"),
        ("mass <= 1 lb", "4.5 lb, misses by 3.5 lb"),
        ("mass <= 48 oz", "72.1 oz, misses by 24.1 oz"),
        ("lamp.current <= 400 mA", "highest 500 mA, misses by 100 mA"),
        ("lamp.energy >= 0.027 kWh", " kWh, misses by 0.00"),
    ],
)
def test_a_figure_is_shown_in_the_unit_of_its_requirement(requirement: str, words: str) -> None:
    """The lamp weighs 2 kg and its lead, of 1.5 mm2 and 1 m, 2 x 8960 x 1.5e-6 x 1.6 = 0.043 kg,
    together 2.043 kg, which is 4.504 lb or 72.07 oz. It has 0.5 A at some 12.8 V for four
    hours."""
    assert words in result(requirement, WEIGHED).words
