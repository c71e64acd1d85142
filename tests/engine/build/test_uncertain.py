"""Values given as a range: the middle is planned with, both ends are kept."""

from __future__ import annotations

import pytest
from support.runs import station_from_text
from support.small_station import LAMP_LEAD, small_text

from copperpath.plugin_api import AmbientRule, Schedule, Span24
from copperpath.station import Station

RIG = "load rig : transceiver {{ receive {receive}; transmit 6 A; transmitting {share} }}\n"
RIG_LEAD = LAMP_LEAD.replace("lamp", "rig")


def radio(receive: str = "0.4 A", share: str = "10 %", pack: str = "") -> Station:
    rest = RIG.format(receive=receive, share=share) + RIG_LEAD
    return station_from_text(small_text(rest, pack=pack))


def test_a_device_has_the_middle_and_the_station_both_ends() -> None:
    station = radio(receive="0.30 A .. 0.40 A")
    (value,) = station.uncertain
    assert station.device("rig").values["receive"] == pytest.approx(0.35)
    assert (value.devices, value.parameter) == (("rig",), "receive")
    assert (value.low, value.high) == (0.30, 0.40)


@pytest.mark.parametrize("written", ["0.30 .. 0.40 A", "0.30 A .. 0.40", "300 .. 400 mA"])
def test_a_bare_number_takes_the_unit_of_the_other_end(written: str) -> None:
    (value,) = radio(receive=written).uncertain
    assert (value.low, value.high) == (pytest.approx(0.30), pytest.approx(0.40))


def test_a_share_of_time_may_be_uncertain_in_each_of_its_hours() -> None:
    station = radio(share="10 .. 30 % from 06:00 to 22:00, otherwise 2 %")
    (value,) = station.uncertain
    day = (6 * 3600.0, 22 * 3600.0)
    assert value.low == Schedule((Span24(*day, 0.1),), 0.02)
    assert value.high == Schedule((Span24(*day, 0.3),), 0.02)
    assert station.device("rig").values["transmitting"] == Schedule((Span24(*day, 0.2),), 0.02)


def test_a_temperature_may_be_uncertain_fixed_or_above_the_air() -> None:
    text = small_text(RIG.format(receive="0.4 A", share="10 %") + RIG_LEAD)
    fixed = station_from_text(text.replace("25 degC", "-5 .. 5 degC")).uncertain[0]
    above = station_from_text(text.replace("25 degC", "air + 4 K .. air + 6 K")).uncertain[0]
    assert (fixed.low, fixed.high) == (AmbientRule(fixed_k=268.15), AmbientRule(fixed_k=278.15))
    assert (above.low, above.high) == (AmbientRule(offset_k=4.0), AmbientRule(offset_k=6.0))


def test_two_ends_that_are_alike_are_certain() -> None:
    assert radio(receive="0.4 .. 0.4 A").uncertain == ()


def test_a_range_written_once_is_one_value_for_all_that_take_it() -> None:
    rest = "part torch : steady { current 0.4 .. 0.6 A }\nload lamp[30] : torch { }\n"
    rest += "load other : torch { }\n" + LAMP_LEAD.replace("lamp", "other")
    rest += LAMP_LEAD.replace("pack -> lamp", "pack -> lamp[1..30]")
    (value,) = station_from_text(small_text(rest)).uncertain
    assert len(value.devices) == 31
