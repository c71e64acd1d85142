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


@pytest.mark.parametrize(
    ("wrong", "parameter", "words"),
    [
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
