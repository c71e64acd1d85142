"""What loads draw and what they refuse to be told."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from support.sample_devices import settled

from copperpath.plugin_api import Model, ParameterProblem, Schedule, Span24
from copperpath.solver.shapes import law_shape
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.loads.transceiver import Transceiver
from copperpath_plugins.loads.usb_device import UsbDevice

RADIO: dict[str, Any] = {
    "receive": 0.4,
    "transmit": 2.4,
    "transmitting": Schedule((), 0.15),
    "works": (9.0, 15.0),
}


def _amps(model: type[Model], volts: float, values: dict[str, Any], **drives: float) -> float:
    shape = law_shape(model)
    d = shape.d_type(*(drives[name] for name in shape.d_fields))
    p = shape.p_type(*(values[name] for name in shape.p_fields))
    return float(model.law(shape.v_type(volts), shape.x_type(), d, p)[0])


def test_a_radio_draws_receive_then_transmit_then_standby_current():
    values = settled(Transceiver, **RADIO)
    assert _amps(Transceiver, 12.8, values, wanted=1.0, share=0.0, level=0.0) == pytest.approx(0.4)
    assert _amps(Transceiver, 12.8, values, wanted=1.0, share=1.0, level=1.0) == pytest.approx(2.4)
    assert _amps(Transceiver, 12.8, values, wanted=0.0, share=0.0, level=0.0) == pytest.approx(
        0.005
    )


def test_mode_words_stand_for_the_published_factors():
    """FCC OET Bulletin 65 Supplement B, edition 97-01, table 2."""
    for word, factor in (("ssb", 0.2), ("ssb_processed", 0.5), ("cw", 0.4), ("fm", 1.0)):
        values = settled(Transceiver, **RADIO, mode=word)
        assert values["mode_mean"] == pytest.approx(factor)
        assert values["mode_mean_square"] == pytest.approx(factor)


def test_a_mode_factor_as_a_number_wins():
    assert settled(Transceiver, **RADIO, mode="fm", mode_factor=0.45)["mode_mean"] == 0.45


def test_key_up_current_raises_the_mean_and_the_mean_square_of_the_level():
    """Simulated: half of the sending at key-up (0.9 A), half fully keyed (2.4 A)."""
    values = settled(Transceiver, **RADIO, key_up=0.9, mode_factor=0.5)
    levels = np.array([(0.9 - 0.4) / 2.0, 1.0])
    assert values["mode_mean"] == pytest.approx(np.mean(levels))
    assert values["mode_mean_square"] == pytest.approx(np.mean(levels**2))


HUNDRED_WATTS: dict[str, Any] = {
    "receive": 1.4,
    "transmit": 20.0,
    "transmitting": Schedule((), 0.15),
    "full_power": 100.0,
}


@pytest.mark.parametrize(
    ("power", "amps"), [(100.0, 20.0), (25.0, 12.0), (50.0, 4.0 + 16.0 * 0.70711), (4.0, 7.2)]
)
def test_a_power_setting_takes_bias_and_the_rest_by_the_square_root_of_the_power(power, amps):
    """4 A of bias and 16 A above it at 100 W, worked by hand: half the power takes 15.3 A."""
    values = settled(Transceiver, **HUNDRED_WATTS, bias=4.0, power=power)
    drawn = _amps(Transceiver, 13.8, values, wanted=1.0, share=1.0, level=1.0)
    assert drawn == pytest.approx(amps, rel=1e-5)


def test_five_watts_of_a_hundred_take_about_what_was_measured_once():
    """6.9 A for about 5 W: one practitioner's measurement of a radio that draws about 20 A."""
    assert settled(Transceiver, **HUNDRED_WATTS, bias=4.0, power=5.0)["keyed"] == pytest.approx(
        6.9, rel=0.1
    )


def test_the_bias_is_the_key_up_current_where_only_that_is_given():
    """At a quarter of the power half of what lies above it is left."""
    keyed = settled(Transceiver, **HUNDRED_WATTS, key_up=4.0, power=25.0)["keyed"]
    assert keyed == pytest.approx(12.0)


def test_without_a_power_setting_the_transmit_current_stands_whatever_the_full_power():
    assert settled(Transceiver, **HUNDRED_WATTS, key_up=4.0)["keyed"] == 20.0
    assert settled(Transceiver, **RADIO)["keyed"] == 2.4


@pytest.mark.parametrize(
    ("wrong", "parameter", "words"),
    [
        ({"power": 5.0}, "power", "full_power 100 W"),
        ({"power": 20.0, "full_power": 10.0}, "power", "the setting used"),
        ({"power": 5.0, "full_power": 10.0}, "power", "bias 0.4 A"),
        ({"bias": 3.0}, "bias", "sends nothing"),
        ({"bias": 0.3}, "bias", "sends nothing"),
        ({"power": 0.1, "full_power": 10.0, "bias": 0.4, "key_up": 1.0}, "key_up", "leave it out"),
        ({"transmit": 0.3}, "transmit", "wrong way round"),
        ({"key_up": 3.0}, "key_up", "receive current"),
        ({"mode_factor": 0.5, "mode_square": 0.9}, "mode_square", "in doubt"),
    ],
)
def test_a_radio_names_the_number_that_does_not_fit(wrong, parameter, words):
    with pytest.raises(ParameterProblem) as caught:
        settled(Transceiver, **(RADIO | wrong))
    assert caught.value.parameter == parameter
    assert words in caught.value.help


def test_a_steady_power_draws_less_current_at_a_higher_voltage():
    values = settled(Steady, power=6.0)
    assert _amps(Steady, 12.0, values, wanted=1.0) == pytest.approx(0.5)
    assert _amps(Steady, 15.0, values, wanted=1.0) == pytest.approx(0.4)


def test_a_steady_current_and_a_resistance_do_as_they_say():
    assert _amps(Steady, 12.0, settled(Steady, current=0.4), wanted=1.0) == pytest.approx(0.4)
    assert _amps(Steady, 12.0, settled(Steady, resistance=24.0), wanted=1.0) == pytest.approx(0.5)


@pytest.mark.parametrize("wrong", [{}, {"power": 6.0, "current": 0.5}])
def test_a_steady_load_wants_exactly_one_quantity(wrong):
    with pytest.raises(ParameterProblem):
        settled(Steady, **wrong)


def test_a_day_of_energy_fits_into_the_hours_it_is_plugged_in():
    evening = Schedule((Span24(22 * 3600.0, 2 * 3600.0, 1.0),), 0.0)
    values = settled(UsbDevice, needs=12.0 / 24.0, on=evening)
    assert values["watts"] == pytest.approx(3.0)


def test_a_day_of_energy_that_does_not_fit_is_refused_with_both_figures():
    evening = Schedule((Span24(22 * 3600.0, 23 * 3600.0, 1.0),), 0.0)
    with pytest.raises(ParameterProblem, match=r"12 Wh .* 7\.5 Wh"):
        settled(UsbDevice, needs=12.0 / 24.0, on=evening)
