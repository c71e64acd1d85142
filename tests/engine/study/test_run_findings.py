"""What a run has to say beyond its figures."""

from __future__ import annotations

import pytest
from support.runs import HERON_BOG, LARKFELL, record_of
from support.small_station import run_text, small_text

from copperpath.record.record import Record

PUMP = (
    "load pump : steady { current 10 A; works 10.5 V .. 15 V }\n"
    "cable pack -> pump { length 1 m; wire 2.5 mm2; fuse 15 A at pack }\n"
)


def rules(record: Record) -> dict[str, str]:
    """Rule name to message."""
    return {each.rule: each.message for each in record.findings}


@pytest.mark.parametrize("step_s", [60.0, 300.0])
def test_steps_of_five_minutes_or_less_are_not_too_long(step_s: float) -> None:
    assert "steps-too-long" not in rules(record_of(HERON_BOG, step_s))
    assert "steps-too-long" not in rules(record_of(LARKFELL / "larkfell_spur.station", step_s))


def test_steps_that_take_a_battery_past_full_are_too_long() -> None:
    found = rules(record_of(HERON_BOG, 1200.0))
    assert "the charge of `pack` misses" in found["steps-too-long"]
    assert "steps of 1200 s" in found["steps-too-long"]


def test_a_device_that_sees_more_volts_than_it_takes_is_a_danger() -> None:
    lamp = (
        "load lamp : steady { current 0.5 A; works 9 V .. 12 V }\n"
        "cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
    )
    record = run_text(small_text(lamp, lasts="1 h"))
    (finding,) = (each for each in record.findings if each.rule == "too-many-volts")
    assert finding.level.value == "danger"
    assert finding.message == "`lamp` sees 13.56 V but takes 12.00 V at the most"


def test_a_load_short_in_the_low_corner_fails_before_any_run_meets_it() -> None:
    record = run_text(small_text(PUMP, lasts="1 h", capacity="100 Ah"))
    assert record.base.low_corner[0].voltage_v < 10.5
    assert "short-when-keyed" in rules(record)
