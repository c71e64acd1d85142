"""The USB-C outlet: budget and efficiency, and a laptop on a 12 V battery; its published limits are
in `outside/checks/usb.py`."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.converters.usb_c_supply import BLEED_S, PROFILE_V, UsbCSupply


def outlet(profile: str = "twenty_volts", **given: object) -> dict[str, object]:
    return settled(UsbCSupply, **{"profile": profile, "budget": 65.0, **given})


@pytest.mark.parametrize("profile", [name for name in PROFILE_V if name != "twenty_volts"])
def test_a_marked_cable_changes_nothing_below_20_v(profile):
    assert outlet(profile, budget=240.0, cable="five_amps")["most_amps"] == 3.0


def test_a_budget_bounds_the_current():
    """30 W at 20 V are 1.5 A; with 12 W kept for another outlet 18 W, 0.9 A."""
    assert outlet(budget=30.0)["most_amps"] == pytest.approx(1.5)
    assert outlet(budget=30.0, other_outlets=12.0)["most_amps"] == pytest.approx(0.9)


def test_a_budget_kept_for_others_as_a_whole_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        outlet(budget=30.0, other_outlets=30.0)
    assert caught.value.parameter == "other_outlets"


@pytest.mark.parametrize(("watts", "share"), [(6.0, 0.82), (30.0, 0.92), (59.0, 0.89)])
def test_it_takes_power_over_the_efficiency_at_a_tenth_half_and_full_budget(watts, share):
    """At 20 V less 20 mohm for each ampere: v (20 - v) / 0.02 = watts."""
    volts = (20.0 + math.sqrt(20.0**2 - 0.08 * watts)) / 2.0
    taken, _ = law_at(UsbCSupply, outlet(budget=60.0, idle=0.0), (12.5, volts))
    assert watts / (12.5 * taken) == pytest.approx(share, abs=1e-3)


@pytest.mark.parametrize("profile", PROFILE_V)
def test_it_works_from_a_voltage_below_and_above_its_output(profile):
    """4 W from 11 V and from 24 V: the same watts at both."""
    volts = PROFILE_V[profile] - 0.001
    values = outlet(profile, idle=0.0)
    watts = [fed * law_at(UsbCSupply, values, (fed, volts))[0] for fed in (11.0, 24.0)]
    assert watts[0] == pytest.approx(watts[1])


def test_under_its_input_window_it_is_off():
    taken, given = law_at(UsbCSupply, outlet(), (9.4, 5.0))
    assert given == BLEED_S * 5.0
    assert taken == pytest.approx(0.025 * (2.0 * 9.4 / 10.0 - 1.0))  # the idle draw alone


STATION = """converter outlet : usb_c_supply {
    profile twenty_volts; budget 65 W; other_outlets 20 W; idle 20 mA
}
converter small : usb_c_supply {
    profile nine_volts; budget 65 W; other_outlets 45 W; idle 0 mA
}
load laptop : steady { power 32.5 W; works 18 V .. 21 V }
load tablet : steady { power 15 W; works 8 V .. 9.5 V }
cable pack -> outlet.in { length 0.5 m; wire 2.5 mm2; fuse 10 A at pack }
cable pack -> small.in { length 0.5 m; wire 2.5 mm2; fuse 10 A at pack }
cable outlet.out -> laptop { length 1 m; wire 0.5 mm2 }
cable small.out -> tablet { length 1 m; wire 0.5 mm2 }
"""


def test_a_laptop_and_a_tablet_share_a_supply_of_65_w():
    """The laptop takes half of the budget, at 92 %: some 35.5 W with what its lead loses, and
    20 mA beside."""
    run = solved_by_both(small_text(STATION, lasts="30 min", capacity="40 Ah", pack="charge 60 %"))
    volts, amps = volts_at(run, "outlet", "in"), amps_into(run, "outlet")
    seen = volts_at(run, "laptop", "line")
    assert np.all((seen > 19.0) & (seen < 20.0))
    given = volts_at(run, "outlet", "out") * 32.5 / seen
    assert volts * (amps - 0.020) == pytest.approx(given / 0.92, rel=2e-3)
    assert imbalance(run) < 1e-6
