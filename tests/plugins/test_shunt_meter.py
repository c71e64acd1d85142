"""The meter: its shunt, its own draw, and both in a station."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath_plugins.blocks.shunt_meter import ShuntMeter


def test_a_usual_shunt_loses_75_mv_at_50_a():
    line, load = law_at(ShuntMeter, settled(ShuntMeter), (13.0, 13.0 - 0.075))
    assert load == pytest.approx(-50.0)
    assert line == pytest.approx(50.010)


def test_it_measures_both_ways_and_draws_at_its_line():
    line, load = law_at(ShuntMeter, settled(ShuntMeter), (13.0, 13.0 + 0.015))
    assert (line, load) == (pytest.approx(-10.0 + 0.010), pytest.approx(10.0))


STATION = """block meter : shunt_meter {{ draw {draw} mA; shunt 10 mohm }}
load lamp : steady {{ current 2 A; works 9 V .. 15 V }}
cable pack -> meter.line {{ length 0.5 m; wire 2.5 mm2; fuse 10 A at pack }}
cable meter.load -> lamp {{ length 1 m; wire 2.5 mm2 }}
"""


def test_a_battery_gives_the_load_and_the_meters_draw():
    run = solved_by_both(small_text(STATION.format(draw=15), lasts="1 h", capacity="10 Ah"))
    assert np.allclose(-amps_into(run, "pack"), 2.015, atol=1e-6)
    over_shunt = volts_at(run, "meter", "line") - volts_at(run, "meter", "load")
    assert np.allclose(over_shunt, 2.0 * 0.010, atol=1e-6)
    assert imbalance(run) < 1e-6
