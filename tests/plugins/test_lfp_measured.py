"""The iron phosphate battery by its own curves: its points, its sag, its account of energy."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import LAMP, LAMP_LEAD, SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.storage.lfp import LithiumIronPhosphate
from copperpath_plugins.storage.lfp_measured import MeasuredLfp

PACK = {"capacity": 12 * 3600.0, "resistance": 0.045}
WARM_K = 298.15
MEASURED = """storage pack : lfp_measured {{
    capacity 2 Ah; temperature 25 degC; available 100 %; resistance 20 mohm; {more}
}}
"""


def station(lasts: str, more: str = "", rest: str = LAMP + LAMP_LEAD) -> str:
    site = SITE.format(lasts=lasts, sky="clear", more="")
    return site + MEASURED.format(more=more) + rest


@pytest.mark.parametrize("charge", [0.0, 0.05, 0.1, 0.3, 0.6, 0.8, 1.0])
def test_without_points_of_its_own_it_rests_as_lfp_does(charge):
    plain, measured = settled(LithiumIronPhosphate, **PACK), settled(MeasuredLfp, **PACK)
    for volts in (9.0, 13.1, 14.0):
        usual = law_at(LithiumIronPhosphate, plain, (volts,), (charge, WARM_K, 0, 0, 0), (WARM_K,))
        own = law_at(MeasuredLfp, measured, (volts,), (charge, WARM_K, 0, 0, 0, 0.0), (WARM_K,))
        assert own == pytest.approx(usual, rel=1e-9, abs=1e-9)


def test_it_rests_at_the_points_that_are_given_and_half_way_between_them():
    values = settled(MeasuredLfp, **PACK, rest_50=3.28, rest_60=3.32, rest_70=3.325)

    def amps(volts: float, charge: float) -> float:
        states = (charge, WARM_K, 0, 0, 0, 0.0)
        return law_at(MeasuredLfp, values, (volts,), states, (WARM_K,))[0]

    assert amps(4 * 3.28, 0.5) == pytest.approx(0.0, abs=1e-9)
    assert amps(4 * 3.30, 0.55) == pytest.approx(0.0, abs=1e-9)
    assert amps(4 * 3.30 - 0.09, 0.55) == pytest.approx(-2.0)


def test_a_curve_that_falls_is_refused_at_the_point_where_it_does():
    with pytest.raises(ParameterProblem, match=r"falls from 3\.3 V to 2\.5 V at a charge of 60 %"):
        settled(MeasuredLfp, **PACK, rest_50=3.3, rest_60=2.5)


def test_it_holds_the_area_under_its_curve():
    """The curve of `lfp`, trapezoids by hand: 1.14 + 2.58 + 3.93 + 2.65 + 2.69 V for four cells."""
    held = MeasuredLfp.contents(np.array([1.0]), SimpleNamespace(**settled(MeasuredLfp, **PACK)))
    assert held[0] == pytest.approx(12 * 3600.0 * 12.99)


def test_it_sags_over_its_spread_and_recovers_when_the_load_is_gone():
    """Half an ampere for an hour from half full, 10 min of spread: the surface runs 0.0833 Ah of
    2 Ah ahead, 4.17 %, on the slope of 0.2 V for 30 %, and comes back once the lamp is off."""
    more = "charge 60 %; spread 10 min"
    lamp = LAMP.replace("}", "; on 08:00 to 09:00 }")
    run = solved_by_both(station("3 h", more, lamp + LAMP_LEAD))
    volts, charge = volts_at(run, "pack", "line"), remembered(run, "pack", "charge")
    usual = 13.0 + (charge[:-1] - 0.3) * 0.2 / 0.3
    ahead = usual + amps_into(run, "pack") * 0.020 - volts
    assert ahead[0] == pytest.approx(0.0, abs=1e-6)
    assert ahead[59] == pytest.approx(0.0417 * 0.2 / 0.3, rel=0.01)
    assert ahead[-1] == pytest.approx(0.0, abs=1e-4)
    assert imbalance(run) < 1e-6
