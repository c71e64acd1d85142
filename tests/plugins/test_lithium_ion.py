"""The lithium-ion battery: cold, and its board in a run; published rest voltages are in
`outside/checks/lithium.py`."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from support.device_runs import (
    amps_into,
    first_time,
    imbalance,
    remembered,
    solved_by_both,
    volts_at,
)
from support.outside_data import rows_of
from support.sample_devices import law_at, settled, signals_at
from support.small_station import SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.storage.lithium_ion import LithiumIon

PACK = {"cells": 3.0, "capacity": 12 * 3600.0, "resistance": 0.04}
WARM_K, COLD_K = 298.15, 263.15
STATION = """storage pack : lithium_ion {{
    cells 3; capacity 2 Ah; temperature 25 degC; resistance 20 mohm; self_discharge 0 %; {pack}
}}
load lamp : steady {{ current 0.5 A; works 6 V .. 15 V }}
cable pack -> lamp {{ length 1 m; wire 1.5 mm2; fuse 3 A at pack }}
"""


def amps_at(volts: float, charge: float, cell_k: float = WARM_K, **given: float) -> float:
    values = settled(LithiumIon, **(PACK | given))
    return law_at(LithiumIon, values, (volts,), (charge, cell_k, 0, 0, 0), (cell_k,))[0]


def station(lasts: str, pack: str = "") -> str:
    return SITE.format(lasts=lasts, sky="clear", more="") + STATION.format(pack=pack)


def test_it_gives_current_through_its_resistance_which_doubles_at_freezing_point():
    rest = 3.0 * 3.7509
    assert amps_at(rest - 0.08, 0.5) == pytest.approx(-2.0)
    assert amps_at(rest - 0.08, 0.5, 273.15) == pytest.approx(-1.0)


def test_it_refuses_charge_in_the_cold_and_still_gives():
    assert amps_at(12.6, 0.5, COLD_K) == 0.0
    assert amps_at(11.0, 0.5, COLD_K) < 0.0


def test_cold_raises_the_floor():
    """At -10 °C three quarters can be drawn, so a quarter of the charge is out of reach."""
    assert amps_at(10.0, 0.249, COLD_K) == 0.0
    assert amps_at(10.0, 0.251, COLD_K) < 0.0


def test_charging_loses_half_a_percent_and_a_month_two():
    values = settled(LithiumIon, **PACK)
    state = (0.5, WARM_K, 0, 0, 0)
    rest = 3.0 * 3.7509
    lost = signals_at(LithiumIon, values, (rest,), state, (WARM_K,))[0]
    assert lost * 30 * 86400 == pytest.approx(-0.02 * 0.5)
    rate = signals_at(LithiumIon, values, (rest + 0.08,), state, (WARM_K,))[0]
    assert rate - lost == pytest.approx(0.995 * 2.0 / PACK["capacity"])


def test_three_cells_hold_the_area_under_the_published_curve():
    """Trapezoids by hand: 0.1 x (sum of the eleven volts less half of the two ends) = 3.7058 V
    a cell on the mean, the 3.6 to 3.7 V that labels state."""
    volts = [float(row["rest_cell_v"]) for row in rows_of("lithium_ion_rest.csv")]
    mean = 0.1 * (sum(volts) - 0.5 * (volts[0] + volts[-1]))
    assert mean == pytest.approx(3.7058, abs=1e-3)
    held = LithiumIon.contents(np.array([1.0]), SimpleNamespace(capacity=43_200.0, cells=3.0))
    assert held[0] == pytest.approx(43_200.0 * 3.0 * mean)


def test_two_ampere_hours_last_four_hours_and_then_the_board_locks():
    run = solved_by_both(station("5 h", "available 100 %; cutoff 7.6 V"))
    locked = remembered(run, "pack", "locked") > 0.5
    assert first_time(locked) == pytest.approx(240, abs=3)
    assert locked[244:].all()
    assert np.all(np.abs(volts_at(run, "pack", "line")[245:]) < 1e-3)
    assert np.all(amps_into(run, "pack")[245:] == 0.0)
    assert imbalance(run) < 1e-6


def test_its_voltage_slopes_with_the_charge():
    """From 12.6 V full to 11.25 V at half, where iron phosphate would stand still."""
    run = solved_by_both(station("2 h"))
    volts = volts_at(run, "pack", "line") + 0.5 * 0.020
    assert volts[0] == pytest.approx(12.6, abs=0.01)
    assert volts[-1] == pytest.approx(3.0 * 3.7509, abs=0.02)


def test_a_cut_off_above_the_full_voltage_is_refused():
    with pytest.raises(ParameterProblem, match=r"12\.6 V of a full battery of 3 cells"):
        settled(LithiumIon, **PACK, cutoff=13.0)
