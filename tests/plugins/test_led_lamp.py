"""A lamp's three drivers and its dimming, worked by hand."""

from __future__ import annotations

import pytest
from support.sample_devices import law_at, settled

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.loads.led_lamp import LedLamp

FULL = (1.0, 1.0)


def test_a_switching_driver_takes_the_same_power_at_any_voltage():
    values = settled(LedLamp, power=6.0)
    assert law_at(LedLamp, values, (12.0,), (), FULL) == pytest.approx((0.5,))
    assert law_at(LedLamp, values, (15.0,), (), FULL) == pytest.approx((0.4,))


def test_a_linear_driver_takes_the_same_current_at_any_voltage():
    values = settled(LedLamp, power=6.0, driver="linear")
    assert law_at(LedLamp, values, (10.0,), (), FULL) == pytest.approx((0.5,))
    assert law_at(LedLamp, values, (15.0,), (), FULL) == pytest.approx((0.5,))


def test_a_strip_of_diodes_and_resistors_doubles_its_current_three_volts_up():
    """9 V of diodes: 0.5 A over 3 V of resistors at 12 V, so 6 ohm; 1 A at 15 V, none at 9 V."""
    values = settled(LedLamp, power=6.0, driver="resistors")
    assert law_at(LedLamp, values, (12.0,), (), FULL) == pytest.approx((0.5,))
    assert law_at(LedLamp, values, (15.0,), (), FULL) == pytest.approx((1.0,))
    assert law_at(LedLamp, values, (9.0,), (), FULL) == (0.0,)


@pytest.mark.parametrize("driver", ["switching", "linear", "resistors"])
def test_a_lamp_dimmed_to_a_quarter_takes_a_quarter(driver: str):
    values = settled(LedLamp, power=6.0, driver=driver)
    assert law_at(LedLamp, values, (12.0,), (), (1.0, 0.25)) == pytest.approx((0.125,))


def test_a_strip_rated_outside_its_window_is_refused():
    with pytest.raises(ParameterProblem, match="takes its power at 24 V"):
        settled(LedLamp, power=6.0, driver="resistors", rated_at=24.0)
