"""The low-voltage disconnect: at single points, and cutting and coming back in a station."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import first_time, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.blocks.disconnect import Disconnect

LEADS = """
cable pack -> cut.line { length 0.5 m; wire 4 mm2; fuse 20 A at pack }
cable cut.load -> lamp { length 1 m; wire 2.5 mm2 }
"""
LONG_LEADS = LEADS.replace("length 0.5 m; wire 4 mm2", "length 10 m; wire 2.5 mm2")
"""Ten metres of 2.5 mm²: 160 mohm out and back (IEC 60228 class 5)."""
LAMP = "load lamp : steady { current 1 A; works 9 V .. 15 V }\n"
RIG = """load rig : transceiver {
    receive 0.3 A; transmit 8 A; transmitting 10 %; mode fm; works 9 V .. 15 V
}
cable cut.load -> rig { length 3 m; wire 1.5 mm2 }
"""


def cut(more: str = "") -> str:
    return f"block cut : disconnect {{ off 12.7 V; on 13.0 V; {more} }}\n"


def test_closed_it_is_a_small_resistance_and_draws_for_itself():
    values = settled(Disconnect)
    line, load = law_at(Disconnect, values, (13.0, 12.99), (0.0, 0.0))
    assert load == pytest.approx(-5.0)  # 10 mV over 2 mohm
    assert line == pytest.approx(5.010)


@pytest.mark.parametrize("state", [(1.0, 0.0), (0.0, 1.0)])
def test_open_it_passes_nothing_whatsoever(state):
    values = settled(Disconnect, draw_open=0.002)
    line, load = law_at(Disconnect, values, (13.0, 0.0), state)
    assert load == 0.0
    assert line == pytest.approx(0.002)


def test_a_disconnect_that_closes_below_where_it_opens_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(Disconnect, off=12.0, on=12.0)
    assert caught.value.parameter == "on"


def test_it_opens_when_the_battery_is_low_for_as_long_as_the_delay_says():
    """Two ampere-hours at one ampere: 12.7 V comes between 11 % and 4 % of charge, after 1.8 h;
    ten minutes below and it opens at the end of the tenth."""
    run = solved_by_both(small_text(cut("off_delay 10 min") + LAMP + LEADS, lasts="3 h"))
    line = volts_at(run, "cut", "line")
    low, opened = first_time(line < 12.7), first_time(remembered(run, "cut", "open") > 0.5)
    assert 105 < low < 115
    assert opened == low + 10
    assert np.all(np.abs(volts_at(run, "lamp", "line")[opened:]) < 1e-3)
    assert imbalance(run) < 1e-6


def test_a_voltage_that_comes_back_in_time_leaves_it_closed():
    """The lamp rests every five minutes, so the timer of eight minutes starts anew."""
    spans = ", ".join(
        f"{hour:02d}:{minute:02d} to {hour:02d}:{minute + 5:02d}"
        for hour in (8, 9)
        for minute in range(0, 60, 10)
    )
    lamp = f"load lamp : steady {{ current 2 A; works 9 V .. 15 V; on {spans} }}\n"
    pack = "charge 40 %"
    off = "block cut : disconnect { off 12.8 V; on 13 V; off_delay 8 min }\n"
    run = solved_by_both(
        small_text(off + lamp + LONG_LEADS, lasts="1 h", capacity="8 Ah", pack=pack)
    )
    assert np.sum(volts_at(run, "cut", "line") < 12.8) >= 25
    assert not remembered(run, "cut", "open").any()


def test_it_closes_again_once_the_sun_has_raised_the_voltage_for_long_enough():
    panel = """source panel : photovoltaic {
        power 60 W; vmp 17.6 V; voc 21.4 V; isc 3.75 A; mount flat
    }
    converter regulator : mppt_charger { output_limit 5 A; max_input 30 V }
    cable panel -> regulator.panel { length 3 m; wire 2.5 mm2 }
    cable regulator.battery -> pack { length 0.3 m; wire 2.5 mm2; fuse 10 A at pack }
    """
    lamp = "load lamp : steady { current 1 A; works 9 V .. 15 V; off 08:00 to 18:00 }\n"
    text = small_text(cut("on_delay 20 min") + lamp + LEADS + panel, lasts="40 h")
    run = solved_by_both(text, 120.0)
    is_open = remembered(run, "cut", "open") > 0.5
    opened = first_time(is_open)
    closed = opened + first_time(~is_open[opened:])
    high = opened + first_time(volts_at(run, "cut", "line")[opened:] > 13.0)
    assert closed == high + 10


@pytest.mark.parametrize(("over", "opens"), [("15 s", False), ("60 s", True)])
def test_a_keyed_radio_opens_it_if_its_overs_last_as_long_as_the_delay(over, opens):
    """Eight amperes through 180 mohm sag the line by 1.4 V, their mean of 1.07 A by 0.2 V."""
    rest = cut(f"longest_over {over}; off_delay 30 s") + LAMP + LONG_LEADS + RIG
    pack = "charge 90 %"
    run = solved_by_both(small_text(rest, lasts="30 min", capacity="20 Ah", pack=pack))
    assert bool(remembered(run, "cut", "open_keyed").any()) is opens
    assert not remembered(run, "cut", "open").any()
