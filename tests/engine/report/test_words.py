from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from copperpath.report.cases_screen import short_moment
from copperpath.report.words import coordinates, duration, fixed, moment, offset


def test_a_moment_is_rounded_to_the_nearest_minute() -> None:
    when = datetime(2026, 3, 30, 23, 59, 40, tzinfo=timezone(timedelta(hours=1)))
    assert moment(when) == "Tue 31 March 00:00"


def test_the_table_of_cases_rounds_a_moment_as_the_verdict_does() -> None:
    when = datetime(2026, 3, 30, 23, 59, 40, tzinfo=timezone(timedelta(hours=1)))
    assert short_moment(when) == "31 Mar 00:00"


@pytest.mark.parametrize(("hours", "shown"), [(1, "+01:00"), (-3.5, "-03:30"), (0, "+00:00")])
def test_the_offset_is_shown_with_its_sign(hours: float, shown: str) -> None:
    when = datetime(2026, 1, 1, tzinfo=timezone(timedelta(hours=hours)))
    assert offset(when) == f"UTC{shown}"


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(45, "45 s"), (300, "5 min"), (106560, "29.6 h"), (259200, "72 h"), (864000, "10 days")],
)
def test_a_duration_is_shown_in_the_unit_that_people_would_use(seconds: float, shown: str) -> None:
    assert duration(seconds) == shown


def test_nothing_is_not_shown_as_negative() -> None:
    assert fixed(-0.001, 2) == "0.00"


def test_a_number_that_does_not_exist_is_a_dash() -> None:
    assert fixed(float("nan"), 2) == "-"


def test_south_and_west_are_letters_not_signs() -> None:
    assert coordinates(-41.29, -174.78) == "41.29 S, 174.78 W"
