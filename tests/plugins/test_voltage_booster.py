"""The booster: what it holds and takes, its bypass, and a radio at the end of a long lead."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import first_time, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled, signals_at
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.converters.voltage_booster import BLEED_S, VoltageBooster

BIG = {"output_limit": 25.0}
ON, OFF = (0.0,), (1.0,)
LEAST_V, MOST_V = 11.73, 15.87
"""13.8 V plus or minus 15 %, as equipment handbooks usually state."""


def test_a_sagging_battery_gives_the_power_of_13v8_over_the_efficiency():
    """20 A at 13.7 V are 274 W; over 0.92 they take 27.1 A from 11 V, and 50 mA beside."""
    taken, given = law_at(VoltageBooster, settled(VoltageBooster, **BIG), (11.0, 13.7), ON)
    assert given == pytest.approx(-20.0, abs=1e-3)
    assert taken == pytest.approx(274.0 / 0.92 / 11.0 + 0.050)


def test_a_full_battery_feeds_through_the_bypass_alone():
    """14.4 V: at 10 A the bypass loses four tenths of 25 A's 0.3 V; what goes in comes out."""
    taken, given = law_at(VoltageBooster, settled(VoltageBooster, **BIG), (14.4, 14.28), ON)
    assert given == pytest.approx(-10.0, abs=1e-3)
    assert taken == pytest.approx(10.050)


def test_above_its_limit_the_output_sinks_to_what_the_bypass_passes():
    """35 A from 12.5 V: 25 A by boosting, 10 A over 0.12 V."""
    given = law_at(VoltageBooster, settled(VoltageBooster, **BIG), (12.5, 12.38), ON)[1]
    assert given == pytest.approx(-35.0, abs=1e-3)


@pytest.mark.parametrize("volts_in", [9.0, 10.5, 12.0, 13.2, 14.6])
def test_at_its_limit_the_output_stays_in_the_window_of_radios_while_it_works(volts_in):
    values = settled(VoltageBooster, **BIG)
    given = law_at(VoltageBooster, values, (volts_in, LEAST_V), ON)[1]
    assert (-given > 25.0 - 1e-3) == (volts_in >= values["minimum"])


def test_what_is_too_high_for_radios_is_not_passed_on():
    given = law_at(VoltageBooster, settled(VoltageBooster, **BIG), (30.0, 16.0), ON)[1]
    assert given == pytest.approx(BLEED_S * 16.0)


def test_switched_off_it_takes_and_gives_nothing():
    taken, given = law_at(VoltageBooster, settled(VoltageBooster, **BIG), (13.0, 12.0), OFF)
    assert (taken, given) == (0.0, pytest.approx(BLEED_S * 12.0))


@pytest.mark.parametrize(("volts_in", "signals"), [(9.9, (1, 0)), (11, (0, 0)), (11.6, (0, 1))])
def test_it_switches_off_below_its_minimum_and_on_above_another_voltage(volts_in, signals):
    values = settled(VoltageBooster, **BIG)
    assert signals_at(VoltageBooster, values, (volts_in, 13.0), ON) == signals


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"minimum": 11.0, "restart": 10.5}, "restart"),
        ({"minimum": 14.0, "restart": 15.0}, "minimum"),
    ],
)
def test_voltages_in_the_wrong_order_are_refused(given, named):
    with pytest.raises(ParameterProblem) as caught:
        settled(VoltageBooster, **BIG, **given)
    assert caught.value.parameter == named


RADIO = """load lamp : steady {{ current {amps} A; works {works} V .. 15.9 V }}
cable pack -> up.in {{ length {metres} m; wire 6 mm2; fuse 40 A at pack }}
cable up.out -> lamp {{ length 0.5 m; wire 6 mm2 }}
converter up : voltage_booster {{ output_limit 25 A; {more} }}
"""


def radio(amps: float, metres: float, more: str = "", works: float = LEAST_V) -> str:
    text = RADIO.format(amps=amps, metres=metres, more=more, works=works)
    return small_text(text, lasts="20 min", capacity="100 Ah", pack="charge 60 %")


def test_a_radio_at_the_end_of_a_long_lead_has_its_13v8():
    """20 A and 10 m of 6 mm², 66 mohm and more out and back: from 13.2 V without a booster the
    radio would see 11.5 V; with it all but the sag of 5 mohm and half a metre of lead."""
    run = solved_by_both(radio(20.0, 10.0))
    seen = volts_at(run, "lamp", "line")
    assert np.all(seen > 13.8 - 20.0 * (0.005 + 0.005))
    assert np.all(volts_at(run, "up", "in") < 11.7)
    assert imbalance(run) < 1e-6


def test_it_switches_off_where_its_lead_sags_below_its_minimum():
    """With a lamp that does not mind a low voltage, as a radio would be given up before."""
    run = solved_by_both(radio(20.0, 10.0, "minimum 11.5 V; restart 14 V", works=5.0))
    assert first_time(remembered(run, "up", "off") > 0.5) == 1
    assert np.all(volts_at(run, "lamp", "line")[1:] < 1e-3)
    assert imbalance(run) < 1e-6
