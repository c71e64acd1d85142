"""The nickel-metal hydride battery, worked by hand; its figures are from memory."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled, signals_at
from support.small_station import SITE

from copperpath_plugins.storage.nickel_metal_hydride import NickelMetalHydride

PACK = {"cells": 10.0, "capacity": 2 * 3600.0}
WARM_K, MONTH_S = 298.15, 30 * 86400
LAMP = """load lamp : steady { current 0.5 A; works 8 V .. 15 V }
cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }
"""


def pack(more: str, rest: str = LAMP, lasts: str = "5 h") -> str:
    return (
        SITE.format(lasts=lasts, sky="clear", more="")
        + f"storage pack : nickel_metal_hydride {{ cells 10; capacity 2 Ah; {more} }}\n"
        + rest
    )


def amps_at(volts: float, charge: float, cell_k: float = WARM_K, **given: float) -> float:
    values = settled(NickelMetalHydride, **(PACK | given))
    return law_at(NickelMetalHydride, values, (volts,), (charge, cell_k), (cell_k,))[0]


def rate_at(volts: float, charge: float, cell_k: float = WARM_K, **given: float) -> float:
    values = settled(NickelMetalHydride, **(PACK | given))
    return signals_at(NickelMetalHydride, values, (volts,), (charge, cell_k), (cell_k,))[0]


def test_ten_cells_of_two_ampere_hours_have_a_quarter_of_an_ohm():
    """12.7 V at half charge: 0.25 V below it two cells' worth of 25 mohm each give 1 A."""
    assert amps_at(12.7, 0.5) == pytest.approx(0.0, abs=1e-9)
    assert amps_at(12.45, 0.5) == pytest.approx(-1.0)


def test_cold_raises_the_floor():
    """At -10 °C three quarters can be drawn."""
    assert amps_at(10.0, 0.249, 263.15) == 0.0
    assert amps_at(10.0, 0.28, 263.15) < 0.0


def test_a_fifth_of_what_goes_in_is_lost_and_none_of_what_comes_out():
    assert rate_at(12.95, 0.5, self_discharge=0.0) == pytest.approx(0.8 / 7200.0)
    assert rate_at(12.45, 0.5, self_discharge=0.0) == pytest.approx(-1.0 / 7200.0)


def test_a_full_one_loses_a_quarter_in_a_month_and_half_ten_kelvin_warmer():
    assert rate_at(13.8, 1.0) * MONTH_S == pytest.approx(-0.25)
    assert rate_at(13.8, 1.0, WARM_K + 10.0) * MONTH_S == pytest.approx(-0.5)


def test_it_takes_no_more_than_its_limit_and_nothing_when_full():
    assert amps_at(16.0, 0.5) == pytest.approx(1.0)
    assert amps_at(16.0, 1.0) == 0.0


def test_two_ampere_hours_carry_half_an_ampere_for_four_hours():
    run = solved_by_both(pack("temperature 25 degC; self_discharge 0 %"))
    gone = -amps_into(run, "pack") < 0.25
    assert first_time(gone) == pytest.approx(240, abs=6)
    assert imbalance(run) < 1e-6


def test_left_alone_for_a_month_it_keeps_a_share_of_one_over_e_to_the_quarter():
    """Each day it loses 0.25 / 30 of what is left: exp(-0.25) = 0.779 after thirty days."""
    lamp = LAMP.replace("0.5 A", "0 A")
    run = solved_by_both(pack("temperature 25 degC", lamp, "720 h"), 3600.0)
    assert remembered(run, "pack", "charge")[-1] == pytest.approx(np.exp(-0.25), abs=0.002)
