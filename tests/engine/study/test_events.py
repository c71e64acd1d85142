"""When things happen: schedule edges are edges of steps, moments lie within steps, and a delay
below a step counts as a step."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from support.runs import solved, station_from_text
from support.small_station import run_text, small_text

LAMP = (
    "load lamp : steady { current 0.5 A; works 9 V .. 15 V; on 08:07 to 09:11 }\n"
    "cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
)
STEADY = LAMP.replace("; on 08:07 to 09:11", "")
RESERVED = small_text(STEADY, pack="reserve 50 %", lasts="4 h")


@pytest.mark.parametrize("step_s", [60.0, 300.0, 1800.0, 3600.0])
def test_a_schedule_is_followed_to_the_second_whatever_the_step(step_s: float) -> None:
    run = solved(station_from_text(small_text(LAMP, lasts="4 h")), step_s)
    wanted = run.wanted(run.problem.station.device("lamp"))
    assert wanted is not None
    assert set(wanted.tolist()) == {0.0, 1.0}
    assert run.seconds(wanted) == pytest.approx(64.0 * 60.0, abs=1e-6)
    begins = run.problem.site.time_s[int(np.argmax(wanted))] - run.problem.site.time_s[0]
    assert begins == pytest.approx(7 * 60.0)


def test_steps_add_up_to_the_run_and_touch() -> None:
    site = solved(station_from_text(small_text(LAMP, lasts="4 h")), 300.0).problem.site
    assert site.dt_s.sum() == pytest.approx(4 * 3600.0)
    np.testing.assert_allclose(site.time_s[:-1] + site.dt_s[:-1], site.time_s[1:])
    assert site.dt_s.min() == pytest.approx(60.0)


@pytest.mark.parametrize("step_s", [60.0, 600.0, 3600.0])
def test_the_reserve_is_reached_at_the_moment_and_not_at_the_step(step_s: float) -> None:
    """2 Ah, half of it planned with, 0.5 A: two hours."""
    record = run_text(RESERVED, step_s)
    reserve_at = record.base.verdict.reserve_at
    assert reserve_at is not None
    starts = record.station.site.starts
    assert reserve_at - starts == pytest.approx(timedelta(hours=2), abs=timedelta(seconds=1))


BOARD = """block lvd : disconnect { off 12.0 V; on 12.8 V; off_delay 30 s; on_delay 10 min }
cable pack -> lvd { length 0.5 m; wire 4 mm2; fuse 15 A at pack }
load lamp : steady { current 0.5 A; works 9 V .. 15 V }
cable lvd.load -> lamp { length 1 m; wire 1.5 mm2 }
"""


def test_a_delay_below_the_step_is_told_as_an_assumption() -> None:
    record = run_text(small_text(BOARD, lasts="1 h"))
    told = {(each.subject, each.parameter): each.value for each in record.assumptions}
    assert told["lvd", "off_delay"] == "60 s"
    assert ("lvd", "on_delay") not in told


def test_a_delay_that_the_step_can_follow_is_not() -> None:
    record = run_text(small_text(BOARD, lasts="1 h"), 30.0)
    assert "off_delay" not in {
        each.parameter for each in record.assumptions if each.subject == "lvd"
    }
