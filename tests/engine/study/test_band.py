"""Uncertain values: which end is worst, how much each moves, and all of them together.

A lamp of 0.4 to 0.6 A on 1.8 to 2.2 Ah: at the middles 2 Ah / 0.5 A = 4 h, at worst 1.8 / 0.6 =
3 h, at best 2.2 / 0.4 = 5.5 h. Alone the current moves it from 3.33 to 5 h, the capacity from 3.6
to 4.4 h.
"""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest
from support.small_station import LAMP, LAMP_LEAD, run_text, small_text

from copperpath.record.record import Band, BandEnd, Record
from copperpath.report.run_screen import run_screen

CLOCK = timezone(timedelta(hours=3))
STARTS = datetime(2026, 6, 19, 8, 0, tzinfo=CLOCK)
LAMP_BETWEEN = LAMP.replace("0.5 A", "0.4 .. 0.6 A")


def record_with(lines: str = "", *, capacity: str = "1.8 .. 2.2 Ah", lasts: str = "12 h") -> Record:
    return run_text(small_text(LAMP_BETWEEN + LAMP_LEAD + lines, capacity=capacity, lasts=lasts))


def band_of(record: Record) -> Band:
    assert record.band is not None
    return record.band


def hours_of(end: BandEnd | None) -> float:
    assert end is not None
    assert end.verdict.until is not None
    return (end.verdict.until - STARTS).total_seconds() / 3600.0


def test_all_unfavourable_ends_together_are_the_low_end_of_the_verdict() -> None:
    record = record_with()
    band = band_of(record)
    assert record.verdict.until is not None
    assert (record.verdict.until - STARTS).total_seconds() / 3600.0 == pytest.approx(4.0, abs=0.1)
    assert hours_of(band.low) == pytest.approx(3.0, abs=0.1)
    assert hours_of(band.high) == pytest.approx(5.5, abs=0.1)


def test_the_value_that_moves_the_answer_most_comes_first() -> None:
    current, capacity = band_of(record_with()).effects
    assert (current.devices, current.worst) == (("lamp",), "high")
    assert (capacity.devices, capacity.worst) == (("pack",), "low")
    assert current.moved_s / 3600.0 == pytest.approx(5.0 - 2.0 / 0.6, abs=0.1)
    assert capacity.moved_s / 3600.0 == pytest.approx(0.8, abs=0.1)


def test_two_values_take_seven_runs() -> None:
    assert band_of(record_with()).runs == 2 * 2 + 3


def test_where_nothing_runs_down_the_lowest_charge_tells_the_ends_apart() -> None:
    """In 2 h the lamp takes 0.8, 1.0 or 1.2 Ah of 2 Ah."""
    band = band_of(record_with(capacity="2 Ah", lasts="2 h"))
    (current,) = band.effects
    assert (current.worst, current.moved_s) == ("high", 0.0)
    assert current.moved_charge == pytest.approx(0.2, abs=0.005)
    assert current.at_low.startswith("lowest charge 6")
    assert current.at_high.startswith("lowest charge 4")


def test_without_a_store_the_volts_to_spare_tell_the_ends_apart() -> None:
    """1 m of 1.5 mm² is 26.6 mohm out and back, in which 0.2 A more lose 5.3 mV more; the source
    loses some beside."""
    text = small_text(
        "source bench : supply { voltage 12 V; limit 5 A }\n"
        + LAMP_BETWEEN
        + "cable bench -> lamp { length 1 m; wire 1.5 mm2 }\n",
        lasts="2 h",
    )
    head, _, rest = text.partition("storage pack")
    record = run_text(head + rest.partition("}\n")[2])
    (current,) = band_of(record).effects
    assert current.worst == "high"
    assert current.moved_s == current.moved_charge == 0.0
    assert current.moved_v >= 0.2 * 2 * 0.0133


def test_a_value_that_moves_nothing_says_so() -> None:
    never = LAMP.replace("lamp", "torch").replace("0.5 A", "0.4 .. 0.6 A; on 02:00 to 03:00")
    record = record_with(never + LAMP_LEAD.replace("lamp", "torch"), capacity="2 Ah")
    effects = {each.devices[0]: each.worst for each in band_of(record).effects}
    assert effects["torch"] == ""


def test_a_requirement_is_judged_at_the_middle_and_told_at_the_low_end() -> None:
    met, missed = record_with(
        "require lamp powered for 3.5 h\nrequire lamp powered for 4.5 h\n"
    ).requirements
    assert (met.met, met.only_expected) == (True, True)
    assert (missed.met, missed.only_expected) == (False, False)
    assert met.at_low is not None
    assert met.at_low.met is False


def test_the_headline_has_the_band_in_it() -> None:
    lines = run_screen(record_with("require lamp powered for 3.5 h\n"))
    assert "RUNS DOWN on Fri 19 June 11:5" in lines or "RUNS DOWN on Fri 19 June 12:0" in lines
    flat = " ".join(lines.split())
    assert "(low: Fri 19 June 1" in flat
    assert "; high: Fri 19 June 13:" in flat
    assert "1 of 1 met, 1 of them not at the unfavourable end" in flat
    assert "found one at a time; that they add up is assumed" in flat


def test_a_station_whose_values_are_certain_has_no_band() -> None:
    assert run_text(small_text(LAMP + LAMP_LEAD, lasts="1 h")).band is None


def test_the_ends_are_the_same_as_in_files_that_state_them() -> None:
    low = run_text(
        small_text(LAMP.replace("0.5 A", "0.6 A") + LAMP_LEAD, capacity="1.8 Ah", lasts="12 h")
    )
    band = band_of(record_with())
    assert band.low is not None
    assert band.low.verdict.until == low.verdict.until
