"""The diode and the ideal diode: their drops, and one direction only, alone and in a station."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.blocks.diode import Diode
from copperpath_plugins.blocks.ideal_diode import IdealDiode


def drop_at(model, values, amps: float) -> float:
    """The drop [V] at which the law passes a current, by halving."""
    low, high = 0.0, 5.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        over = -law_at(model, values, (12.0, 12.0 - middle))[1] > amps
        low, high = (low, middle) if over else (middle, high)
    return 0.5 * (low + high)


def test_a_diode_loses_what_its_two_figures_say():
    values = settled(Diode, rating=10.0)
    assert drop_at(Diode, values, 10.0) == pytest.approx(0.45, abs=1e-9)
    assert drop_at(Diode, values, 0.1) == pytest.approx(0.30, abs=1e-7)


def test_between_them_a_diode_is_near_a_logarithm():
    values = settled(Diode, rating=10.0)
    for amps in np.geomspace(0.1, 10.0, 21):
        logarithm = 0.30 + 0.15 * math.log10(amps / 0.1) / 2.0
        assert drop_at(Diode, values, float(amps)) == pytest.approx(logarithm, abs=0.02)


@pytest.mark.parametrize(("model", "given"), [(Diode, {"rating": 10.0}), (IdealDiode, {})])
def test_nothing_flows_backwards(model, given):
    values = settled(model, **given)
    for back in (0.0, 0.01, 13.0, 300.0):
        assert law_at(model, values, (12.0, 12.0 + back))[1] == 0.0


def test_an_ideal_diode_holds_millivolts_and_then_is_a_resistance():
    values = settled(IdealDiode, held_drop=0.010, resistance=0.002)
    assert drop_at(IdealDiode, values, 0.05) == pytest.approx(0.010, abs=0.003)
    assert drop_at(IdealDiode, values, 20.0) == pytest.approx(0.010 + 20.0 * 0.002)


def test_an_ideal_diode_draws_a_milliampere_at_its_input():
    values = settled(IdealDiode)
    assert law_at(IdealDiode, values, (12.0, 13.0)) == (0.001, 0.0)


@pytest.mark.parametrize("small", [0.35, 0.02])
def test_a_diode_with_unlikely_drops_is_refused(small):
    with pytest.raises(ParameterProblem) as caught:
        settled(Diode, rating=10.0, drop=0.3, drop_small=small)
    assert caught.value.parameter == "drop_small"


TWO = """storage spare : lfp {{
    capacity 2 Ah; temperature 25 degC; available 100 %; resistance 20 mohm; charge {spare}
}}
block strip : strip {{ ways 3 }}
block a : {diode}
block b : {diode}
load lamp : steady {{ current 0.5 A; works 9 V .. 15 V }}
cable pack -> a.in {{ length 0.5 m; wire 2.5 mm2; fuse 10 A at pack }}
cable spare -> b.in {{ length 0.5 m; wire 2.5 mm2; fuse 10 A at spare }}
cable a.out -> strip.1 {{ length 0.5 m; wire 2.5 mm2 }}
cable b.out -> strip.2 {{ length 0.5 m; wire 2.5 mm2 }}
cable strip.3 -> lamp {{ length 1 m; wire 1.5 mm2 }}
"""


@pytest.mark.parametrize("diode", ["diode { rating 10 A }", "ideal_diode { }"])
def test_two_batteries_behind_diodes_never_charge_each_other(diode):
    """The fuller one feeds the lamp alone, until their voltages have come together."""
    text = small_text(TWO.format(diode=diode, spare="30 %"), lasts="5 h")
    run = solved_by_both(text, 300.0)
    for battery in ("pack", "spare"):
        assert np.all(amps_into(run, battery) <= 0.0)
    spare = remembered(run, "spare", "charge")
    assert spare[6] == pytest.approx(0.30, abs=2e-3)
    assert spare[-1] < 0.29
    assert imbalance(run) < 1e-6
