"""Harbour Hill Post: the engine against figures worked by hand beforehand.

Source: worked by hand in the project's own design brief, "figures ours"; no measurement. Tolerances
are stated beside each figure, with what the hand work leaves out.
"""

from __future__ import annotations

import pytest
from support.runs import STATIONS, record_of

from copperpath.record.record import DeviceFigures

POST = STATIONS / "harbour_hill" / "harbour_hill.station"
DAYS = 2.0

HAND_AH_A_DAY = {
    "vhf": 28.2,
    "hf": 35.8,
    "packet": 22.3,
    "laptop": 28.3,
    "router": 12.7,
    "lamp": 5.5,
}


def figures(name: str) -> DeviceFigures:
    return next(each for each in record_of(POST).base.devices if each.name == name)


@pytest.mark.parametrize(("name", "hand"), HAND_AH_A_DAY.items())
def test_a_load_takes_the_charge_worked_out_by_hand(name: str, hand: float) -> None:
    """Within 4 %: by hand the loads of constant power stand at 13.2 V, in the run at 13.4 V."""
    found = figures(name).current_mean_a * 24.0
    assert found == pytest.approx(hand, rel=0.04)


def test_everything_is_powered_to_the_end() -> None:
    record = record_of(POST)
    assert record.verdict.word == "lasts"
    assert all(result.met for result in record.base.requirements)


def test_the_sun_gives_27_ampere_hours_a_day() -> None:
    """Within 3 Ah: by hand the panels stand at their rated voltage in any light and warmth."""
    found = figures("regulator").energy_j / 3600.0 / 13.3 / DAYS
    assert abs(found - 27.0) < 3.0


def test_with_all_radios_keyed_37_8_amperes_flow_in_the_feed() -> None:
    """Within 0.5 A, as the loads of constant power take more the lower the voltage."""
    feed = next(each for each in record_of(POST).base.cables if each.name.startswith("rail.1"))
    assert abs(feed.peak_a - 37.8) < 0.5


def test_the_hf_radio_keeps_12_2_volts_with_all_radios_keyed() -> None:
    """Within 0.1 V, at a battery of 13.0 V under load."""
    assert abs(figures("hf").worst_voltage_v - 12.2) < 0.1


def test_at_the_lowest_planned_charge_the_hf_radio_has_a_thin_margin() -> None:
    """By hand 11.8 V at a battery of 12.6 V, which is a little less than the curve has there."""
    record = record_of(POST)
    corner = next(each for each in record.base.low_corner if each.device == "hf")
    assert 11.7 < corner.voltage_v < 12.0
    assert any("`hf` falls to" in finding.message for finding in record.findings)


def test_the_panels_stand_at_53_1_volts_on_the_coldest_morning_on_record() -> None:
    """2 x 24.6 V x (1 + 0.29 % x 27) at -2 degC: above 50 V, below the controller's 100 V."""
    values = next(each for each in record_of(POST).station.devices if each.name == "panels").values
    volts = 2 * values["voc"] * (1 + values["voc_coefficient"] * (-2 - 25))
    assert volts == pytest.approx(53.1, abs=0.05)
