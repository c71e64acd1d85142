"""The heater with a thermostat: when it switches, and what it takes."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import amps_into, remembered, solved_by_both
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.loads.heater import Heater


def test_it_is_a_resistance_that_takes_its_power_at_its_voltage():
    values = settled(Heater, power=24.0, below=275.15)
    assert law_at(Heater, values, (12.0,), (1.0,), (270.0, 1.0, 1.0))[0] == pytest.approx(2.0)
    assert law_at(Heater, values, (6.0,), (1.0,), (270.0, 1.0, 1.0))[0] == pytest.approx(1.0)
    assert law_at(Heater, values, (12.0,), (0.0,), (270.0, 1.0, 1.0))[0] == 0.0


def test_a_rated_voltage_outside_its_window_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(Heater, power=24.0, below=275.15, rated_at=24.0)
    assert caught.value.parameter == "rated_at"


def test_it_heats_from_below_its_threshold_until_it_is_a_band_warmer():
    """Air between 8 and 19 degC: on below 10 degC in the early morning, off above 13 degC."""
    heater = "load mat : heater { power 12 W; below 10 degC; band 3 K }\n"
    lead = "cable pack -> mat { length 1 m; wire 1.5 mm2; fuse 5 A at pack }\n"
    run = solved_by_both(small_text(heater + lead, lasts="48 h", capacity="60 Ah"), 300.0)
    air = run.problem.site.air_k - 273.15
    heating = remembered(run, "mat", "heating")[1:] > 0.5
    assert heating[air < 10.0].all()
    assert not heating[air > 13.1].any()
    rising = np.gradient(air) > 0.0
    between = (air > 10.1) & (air < 12.9)
    first_morning = np.arange(air.size) < 12 * 12
    assert heating[between & rising & ~first_morning].all()
    assert not heating[between & ~rising].any()
    assert amps_into(run, "mat").max() == pytest.approx(12.0 * 13.6 / 144.0, rel=0.03)


def test_outside_its_hours_it_stays_cold():
    heater = "load mat : heater { power 12 W; below 30 degC; on 20:00 to 22:00 }\n"
    lead = "cable pack -> mat { length 1 m; wire 1.5 mm2; fuse 5 A at pack }\n"
    run = solved_by_both(small_text(heater + lead, lasts="24 h", capacity="60 Ah"), 300.0)
    on = amps_into(run, "mat") > 0.0
    assert on.sum() == pytest.approx(24, abs=1)
    assert on[12 * 12 + 2]
