"""The switch: closed and open at single points, and by the hour in a station."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath_plugins.blocks.switch import Switch


def test_closed_it_is_a_small_resistance():
    line, load = law_at(Switch, settled(Switch), (13.0, 12.99), d=(1.0,))
    assert (line, load) == (pytest.approx(5.0), pytest.approx(-5.0))  # 10 mV over 2 mohm


def test_open_it_passes_nothing_whatsoever():
    assert law_at(Switch, settled(Switch), (13.0, 0.0), d=(0.0,)) == (0.0, 0.0)


HOURS = "on 08:07 to 08:20"
STATION = f"""block switch : switch {{ {HOURS} }}
load lamp : steady {{ current 2 A; works 9 V .. 15 V; {HOURS} }}
cable pack -> switch.line {{ length 0.5 m; wire 2.5 mm2; fuse 10 A at pack }}
cable switch.load -> lamp {{ length 1 m; wire 2.5 mm2 }}
"""


def test_it_follows_its_hours_to_the_minute_however_long_the_steps():
    """Closed for 13 of 60 minutes: 2 A for 780 s are 1560 C."""
    run = solved_by_both(small_text(STATION, lasts="1 h", capacity="10 Ah"), 300.0)
    amps = amps_into(run, "switch")
    assert np.all((amps == 0.0) | np.isclose(amps, 2.0, atol=1e-3))
    assert float(np.sum(amps * run.problem.dt_s)) == pytest.approx(1560.0, rel=1e-3)
    assert np.all(volts_at(run, "lamp", "line")[amps < 1.0] < 1e-3)
    assert imbalance(run) < 1e-6
