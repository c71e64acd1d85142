"""Heater pads warm the cells they lie under, and may wait for surplus sun."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled
from support.small_station import LAMP, LAMP_LEAD, PANEL, SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.storage.lfp_heated import HeatedLfp

PACK = {"capacity": 12 * 3600.0, "resistance": 0.045, "pads": 12.0}
COLD_K, WARM_K = 263.15, 298.15
HEATED = """storage pack : lfp_heated {{
    capacity {capacity}; temperature -10 degC; resistance 20 mohm; pads {pads}; {more}
}}
"""


def station(
    lasts: str, more: str, pads: str = "12 W", capacity: str = "20 Ah", rest: str = LAMP + LAMP_LEAD
) -> str:
    site = SITE.format(lasts=lasts, sky="clear", more="")
    return site + HEATED.format(more=more, pads=pads, capacity=capacity) + rest


def states(charge: float, cell_k: float, heating: float, connected: float) -> tuple[float, ...]:
    return (charge, cell_k, 0, 0, 0, heating, connected)


def test_pads_take_their_power_at_their_voltage_and_more_at_a_higher_one():
    values = settled(HeatedLfp, **PACK, pads_run="always")
    for volts in (12.0, 14.0):
        on = law_at(HeatedLfp, values, (volts,), states(0.6, WARM_K, 1, 0), (WARM_K,))[0]
        off = law_at(HeatedLfp, values, (volts,), states(0.6, WARM_K, 0, 0), (WARM_K,))[0]
        assert (on - off) * volts == pytest.approx(12.0 * (volts / 12.0) ** 2)


def test_pads_that_wait_for_surplus_take_nothing_until_their_relay_connects():
    values = settled(HeatedLfp, **PACK)
    waiting = law_at(HeatedLfp, values, (14.4,), states(0.6, COLD_K, 1, 0), (COLD_K,))[0]
    assert waiting == 0.0
    fed = law_at(HeatedLfp, values, (14.4,), states(0.6, COLD_K, 1, 1), (COLD_K,))[0]
    assert fed * 14.4 == pytest.approx(12.0 * 1.2**2)


def test_cells_warm_towards_power_times_resistance_with_its_time_constant():
    """2 K/W and 3600 J/K are two hours. A pad of 6 W at 12 V takes 7.7 W at the 13.6 V of a full
    battery, so that after two hours it is 1 - 1/e of 15.4 K warmer, after eight nearly all."""
    more = "pads_run always; pads_below 30 degC; case_resistance 2 K/W; heat_capacity 3600 J/K"
    run = solved_by_both(station("8 h", more, "6 W", "200 Ah"))
    cell = remembered(run, "pack", "cell") - COLD_K
    watts = run.flows["pack"].heat[:, run.problem.columns.mean][60:].mean()
    assert watts == pytest.approx(7.7, abs=0.1)
    assert cell[121] == pytest.approx(2.0 * watts * (1.0 - np.exp(-1.0)), rel=0.03)
    assert cell[-1] == pytest.approx(2.0 * watts * (1.0 - np.exp(-4.0)), rel=0.03)
    assert imbalance(run) < 1e-6


def test_the_thermostat_keeps_cells_within_its_band():
    """It heats with 15 W, towards 36 degC, by 0.26 K a minute at 5 degC; a latch acts one step
    after its cause, so that it overshoots by less than two steps, 0.5 K."""
    run = solved_by_both(station("24 h", "pads_run always; case_resistance 3 K/W", "12 W", "60 Ah"))
    cell = remembered(run, "pack", "cell")[12 * 60 :] - 273.15
    assert 1.7 < cell.min() < 2.1
    assert 4.9 < cell.max() < 5.5


def test_a_cold_battery_warms_itself_by_day_and_then_takes_charge():
    """At -10 degC its board refuses charge, so the controller rises to its set voltage; the relay
    sees that, the pads warm the cells above freezing, and the battery is charged."""
    more = "charge 60 %; case_resistance 2 K/W; heat_capacity 2000 J/K"
    run = solved_by_both(station("10 h", more, rest=LAMP + LAMP_LEAD + PANEL))
    cell, charge = remembered(run, "pack", "cell"), remembered(run, "pack", "charge")
    warm = first_time(cell > 273.15 + 2.0)
    assert 10 < warm < 200
    assert np.all(np.diff(charge[:warm]) <= 1e-12)
    assert charge[-1] > charge[warm] + 0.1
    assert imbalance(run) < 1e-6


def test_without_sun_they_never_take_from_the_battery_they_warm():
    run = solved_by_both(station("12 h", ""))
    lamp = -amps_into(run, "pack")
    assert np.all(remembered(run, "pack", "heating")[1:] == 1.0)
    assert np.all(np.abs(lamp - 0.5) < 1e-3)
    assert remembered(run, "pack", "cell")[-1] == pytest.approx(COLD_K, abs=0.1)


def test_a_relay_above_what_the_battery_may_see_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(HeatedLfp, **PACK, surplus_above=15.5)
    assert caught.value.parameter == "surplus_above"
