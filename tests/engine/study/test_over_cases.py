"""Cases run beside the base, and requirements judged over them.

The lamp takes 0.5 A from 2 Ah, so it burns for 4 h; with two of them 2 h, with half of it 8 h.
"""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest
from support.runs import station_from_text
from support.small_station import LAMP, LAMP_LEAD, run_text, small_text

from copperpath.network.refused import NetworkRefused
from copperpath.pipeline import run
from copperpath.record.record import Record

CLOCK = timezone(timedelta(hours=3))
STARTS = datetime(2026, 6, 19, 8, 0, tzinfo=CLOCK)
CASES = f"""case "two lamps" {{
    {LAMP.replace("lamp", "torch")}
    {LAMP_LEAD.replace("lamp", "torch")}
}}
case "half of it" {{ change lamp {{ current 0.25 A }} }}
case "longer" {{ lasts 48 h; without lamp }}
"""


def record_with(requirements: str = "", cases: str = CASES) -> Record:
    return run_text(small_text(LAMP + LAMP_LEAD + requirements + cases))


def hours_of(record: Record, title: str) -> float:
    until = record.case(title).verdict.until
    assert until is not None
    return (until - STARTS).total_seconds() / 3600.0


def test_every_case_is_run_with_its_own_devices() -> None:
    record = record_with()
    assert [case.name for case in record.cases] == ["base", "two lamps", "half of it", "longer"]
    assert hours_of(record, "base") == pytest.approx(4.0, abs=0.1)
    assert hours_of(record, "two lamps") == pytest.approx(2.0, abs=0.1)
    assert hours_of(record, "half of it") == pytest.approx(8.0, abs=0.1)


def test_a_case_comes_out_as_a_file_that_says_the_same() -> None:
    record = record_with()
    alone = run_text(small_text(LAMP.replace("0.5 A", "0.25 A") + LAMP_LEAD))
    beside = record.case("half of it")
    assert beside.verdict == alone.verdict
    assert beside.ledger == alone.base.ledger
    assert beside.devices == alone.base.devices


def test_a_case_has_hours_of_its_own() -> None:
    record = record_with()
    assert len(record.case("longer").time_s) == 2 * len(record.time_s)
    assert len(record.frame("longer")) == 2 * len(record.frame())


def test_the_worst_case_of_a_requirement_is_named_with_its_margin() -> None:
    (found,) = record_with("require lamp powered for 3 h in every case\n").requirements
    assert (found.case, found.met) == ("two lamps", False)
    assert found.worst.margin == pytest.approx(-3600.0, abs=360.0)
    assert found.judged == ("base", "two lamps", "half of it")
    assert found.missed == ("two lamps",)


def test_of_cases_that_all_meet_it_the_one_with_the_least_to_spare_is_named() -> None:
    limit = "require lamp.current <= 1 A in every case\n"
    cases = 'case "more" { change lamp { current 0.8 A } }\n'
    cases += 'case "less" { change lamp { current 0.1 A } }\n'
    (found,) = record_with(limit, cases).requirements
    assert (found.case, found.met) == ("more", True)
    assert found.worst.margin == pytest.approx(0.2, abs=1e-6)


def test_a_requirement_that_names_no_case_is_about_the_base_alone() -> None:
    (found,) = record_with("require lamp powered for 3 h\n").requirements
    assert (found.case, found.met, found.judged) == ("base", True, ("base",))


def test_a_requirement_in_named_cases_is_not_about_the_base() -> None:
    line = 'require lamp powered for 6 h in case "half of it"\n'
    (found,) = record_with(line).requirements
    assert (found.case, found.met, found.judged) == ("half of it", True, ("half of it",))


def test_requirements_stay_in_the_order_of_the_text() -> None:
    lines = 'require holds in case "longer"\nrequire mass <= 9 kg\n'
    lines += "require lamp.voltage >= 9 V in every case\n"
    texts = [each.worst.text for each in record_with(lines).requirements]
    assert texts == [
        'holds in case "longer"',
        "mass <= 9 kg",
        "lamp.voltage >= 9 V in every case",
    ]


def test_a_load_without_a_cable_is_short_from_the_start() -> None:
    record = record_with(cases='case "cut" { without cable pack -> lamp }')
    case = record.case("cut")
    assert hours_of(record, "cut") == 0.0
    assert {finding.rule for finding in case.findings} >= {
        "left-without-cable",
        "load-without-source",
    }


def test_findings_of_a_case_are_not_those_of_the_base() -> None:
    record = record_with(cases='case "cut" { without cable pack -> lamp }')
    assert "load-without-source" not in {finding.rule for finding in record.findings}


def test_a_case_that_cannot_be_solved_is_refused_by_its_title() -> None:
    mains = """load kettle : mains_load { power 60 W }
    cable pack -> kettle { length 1 m; wire 1.5 mm2; fuse 10 A at pack }"""
    station = station_from_text(small_text(LAMP + LAMP_LEAD + f'case "tea" {{ {mains} }}'))
    with pytest.raises(NetworkRefused, match='in case "tea": '):
        run(station)


def test_what_is_done_is_told_case_by_case() -> None:
    told: list[str] = []
    text = small_text(LAMP + LAMP_LEAD + CASES, lasts="1 h")
    run(station_from_text(text.replace("48 h", "2 h")), progress=told.append)
    assert "3 of 3 cases run" in told


def test_both_executors_run_the_cases() -> None:
    """Without the lamp nothing is drawn, so what is left holds."""
    station = station_from_text(small_text(LAMP + LAMP_LEAD + CASES, lasts="6 h"))
    words = [
        [case.verdict.word for case in run(station, step_s=300.0, executor=name).cases]
        for name in ("compiled", "twin")
    ]
    assert words[0] == words[1] == ["runs down", "runs down", "lasts", "holds"]


def test_a_cause_is_looked_for_in_the_cases_that_are_named_and_in_the_station_itself() -> None:
    station = station_from_text(small_text(LAMP + LAMP_LEAD + CASES))
    causes = [case.verdict.cause for case in run(station, causes_of=("two lamps",)).cases]
    assert [cause is not None for cause in causes] == [True, True, False, False]
