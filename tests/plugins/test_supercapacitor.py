"""The supercapacitor: against the closed form of a decay, stiff circuits, its account of energy."""

from __future__ import annotations

from itertools import pairwise
from types import SimpleNamespace

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled, signals_at
from support.small_station import SITE

from copperpath_plugins.storage.supercapacitor import Supercapacitor

MODULE = {"capacitance": 58.0, "voltage": 16.0, "resistance": 0.022, "leakage": 0.0}
BANK = "storage bank : supercapacitor {{ capacitance {farad} F; voltage 16 V; {more} }}\n"
# Ten ohm, from the second step on: a thermostat acts one step after its cause.
TEN_OHM = """load pad : heater {
    power 14.4 W; rated_at 12 V; below 60 degC; works 0.5 V .. 20 V
}
cable bank -> pad { length 1 m; wire 6 mm2; fuse 20 A at bank }
"""
STIFF = """source mains : supply { voltage 13.8 V; limit 30 A }
cable mains -> bank { length 1 m; wire 6 mm2; fuse 30 A at mains }
"""


def station(rest: str, farad: float, lasts: str, more: str = "") -> str:
    site = SITE.format(lasts=lasts, sky="clear", more="")
    return site + BANK.format(farad=farad, more=more) + rest


def after_four_minutes(step_s: float) -> float:
    """How far 10 F on ten ohm are from the closed form after four minutes of decay [V]."""
    more = "resistance 0.1 ohm; leakage 0 A"
    run = solved_by_both(station(TEN_OHM, 10.0, "270 s", more), step_s)
    loop_ohm = 10.0 + 0.1 + run.branches[0].branch.ohm
    volts = 16.0 * remembered(run, "bank", "charge")
    decayed = volts[1] * np.exp(-240.0 / (loop_ohm * 10.0))
    return float(volts[1 + int(240.0 / step_s)] - decayed)


def test_it_decays_as_the_closed_form_says_and_the_error_halves_with_the_step():
    errors = [after_four_minutes(step_s) for step_s in (8.0, 4.0, 2.0, 1.0)]
    assert all(error > 0.0 for error in errors)
    orders = [np.log2(one / next_one) for one, next_one in pairwise(errors)]
    assert orders == pytest.approx([1.0] * 3, abs=0.1)
    assert errors[-1] < 0.02


def test_a_small_one_on_a_stiff_supply_rises_to_it_and_does_not_swing():
    """Its time constant is 2 ms, the step a minute."""
    more = "resistance 10 mohm; charge 0 %"
    run = solved_by_both(station(STIFF, 0.1, "20 min", more))
    volts = 16.0 * remembered(run, "bank", "charge")
    assert np.all(np.diff(volts) >= -1e-12)
    assert volts[-1] == pytest.approx(13.8, abs=0.05)
    assert imbalance(run) < 1e-6


def test_charged_at_once_by_a_stiff_source_half_of_the_energy_turns_to_heat():
    """C v^2 comes in, C v^2 / 2 stays, whatever the resistance."""
    values = settled(Supercapacitor, **(MODULE | {"capacitance": 0.5}))
    amps = law_at(Supercapacitor, values, (12.0,), (0.0,), (60.0,))[0]
    assert 12.0 * amps * 60.0 == pytest.approx(0.5 * 12.0**2, rel=1e-3)
    rate = signals_at(Supercapacitor, values, (12.0,), (0.0,), (60.0,))[0]
    held = Supercapacitor.contents(rate * 60.0, SimpleNamespace(**values))
    assert held == pytest.approx(0.25 * 12.0**2, rel=1e-3)


def test_what_flows_in_and_out_is_what_its_voltage_says():
    """By C v^2 / 2 at both ends, with steps of a fifth of its time constant."""
    run = solved_by_both(station(TEN_OHM, 10.0, "270 s", "leakage 5 mA"), 20.0)
    volts = 16.0 * remembered(run, "bank", "charge")
    stored = run.energy(run.weighted(run.flows["bank"].store))
    assert stored == pytest.approx(5.0 * (volts[-1] ** 2 - volts[0] ** 2), rel=1e-9)
    assert imbalance(run) < 1e-6


def test_its_leak_alone_takes_it_down_slowly():
    """2 mA at 16 V and 10 F: 8000 ohm, a time constant of 80 000 s."""
    lamp = "load lamp : steady { current 0 A }\n"
    lead = "cable bank -> lamp { length 1 m; wire 6 mm2; fuse 3 A at bank }\n"
    run = solved_by_both(station(lamp + lead, 10.0, "8 h", "leakage 2 mA"))
    charge = remembered(run, "bank", "charge")
    assert charge[-1] == pytest.approx(np.exp(-28_800.0 / 80_000.0), rel=2e-4)


def test_two_in_series_hold_half_the_capacitance_at_twice_the_voltage():
    values = settled(Supercapacitor, **MODULE, series=2.0, parallel=3.0)
    assert values["farad"] == pytest.approx(58.0 * 3 / 2)
    assert values["full_voltage"] == 32.0
    assert values["module_ohm"] == pytest.approx(0.022 * 2 / 3)


def test_at_its_rated_voltage_it_is_charged_no_further():
    values = settled(Supercapacitor, **MODULE)
    assert signals_at(Supercapacitor, values, (16.5,), (1.0,), (60.0,))[0] == 0.0
    assert law_at(Supercapacitor, values, (16.5,), (1.0,), (60.0,))[0] == pytest.approx(0.5 / 0.022)


def test_it_gives_nothing_when_empty_and_no_energy_comes_back_reversed():
    values = settled(Supercapacitor, **MODULE)
    assert law_at(Supercapacitor, values, (0.0,), (0.0,), (60.0,))[0] == 0.0
    assert law_at(Supercapacitor, values, (-1.0,), (0.0,), (60.0,))[0] < 0.0
    assert signals_at(Supercapacitor, values, (-1.0,), (0.0,), (60.0,))[0] == 0.0


def test_a_supply_fills_it_through_its_current_limit():
    """30 A into 58 F are 0.52 V a second: six steps of 5 s from nothing to about 13.8 V."""
    text = station(STIFF, 58.0, "2 min", "resistance 22 mohm; charge 0 %")
    run = solved_by_both(text, 5.0)
    assert amps_into(run, "bank")[1] == pytest.approx(30.0, rel=0.02)
    assert volts_at(run, "bank", "line")[-1] == pytest.approx(13.8, abs=0.1)
