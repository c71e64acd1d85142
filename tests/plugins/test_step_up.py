"""The step-up: its efficiencies, its limits, and a 24 V device on a 12 V battery."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.converters.step_up import BLEED_SHARE, StepUp

UP = {"output": 24.0, "output_limit": 5.0, "input": (10.0, 16.0)}
BLEED_A = BLEED_SHARE * 5.0
"""At 24 V."""


def output_volts(watts: float) -> float:
    """Where 24 V less 20 mohm for each ampere gives these watts: v (24 - v) / 0.02 = watts."""
    return (24.0 + math.sqrt(24.0**2 - 0.08 * watts)) / 2.0


def test_it_holds_its_output_and_takes_power_over_efficiency():
    taken, given = law_at(StepUp, settled(StepUp, **UP), (12.0, 23.98))
    assert given == pytest.approx(-1.0, abs=1e-4)
    assert taken == pytest.approx(23.98 / 0.9 / 12.0 + 0.030)


def test_less_voltage_at_its_input_means_more_current():
    """Two amperes at 24 V: 48 W over 0.9 is 53.3 W, 4.44 A at 12 V and 5.33 A at 10 V."""
    values = settled(StepUp, **UP, idle=0.0)
    taken = [law_at(StepUp, values, (volts, 23.96))[0] for volts in (12.0, 10.0)]
    assert taken == pytest.approx([4.44, 5.33], abs=0.02)


@pytest.mark.parametrize(("watts", "share"), [(12.0, 0.82), (60.0, 0.92), (119.0, 0.89)])
def test_three_efficiencies_hold_at_a_tenth_half_and_full_output(watts, share):
    """The figures of small boosters, common practice; full is 24 V at 5 A."""
    values = settled(
        StepUp, **UP, idle=0.0, efficiency=0.92, efficiency_tenth=0.82, efficiency_full=0.89
    )
    taken, _ = law_at(StepUp, values, (12.0, output_volts(watts)))
    assert watts / (12.0 * taken) == pytest.approx(share, abs=5e-4)


def test_one_efficiency_holds_at_any_output():
    values = settled(StepUp, **UP, idle=0.0, efficiency=0.85)
    for watts in (1.0, 20.0, 80.0):
        taken, _ = law_at(StepUp, values, (12.0, output_volts(watts)))
        assert watts / (12.0 * taken) == pytest.approx(0.85)


def test_it_stops_at_its_limit_and_is_off_under_its_input_window():
    values = settled(StepUp, **UP)
    assert law_at(StepUp, values, (12.0, 12.0))[1] == pytest.approx(-5.0, abs=1e-4)
    assert law_at(StepUp, values, (9.75, 12.0))[1] == pytest.approx(-2.5, abs=1e-4)
    taken, given = law_at(StepUp, values, (9.5, 24.0))
    assert given == pytest.approx(BLEED_A)
    assert taken == pytest.approx(0.030 * (2.0 * 9.5 / 10.0 - 1.0))  # the idle draw alone


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"output": 13.8, "output_limit": 5.0, "input": (10.0, 16.0)}, "input"),
        ({**UP, "efficiency": 0.9, "efficiency_tenth": 0.15}, "efficiency_tenth"),
    ],
)
def test_what_does_not_fit_is_refused(given, named):
    """At 15 % a tenth of the output would take 0.67 of it, half at 90 % only 0.56."""
    with pytest.raises(ParameterProblem) as caught:
        settled(StepUp, **given)
    assert caught.value.parameter == named


STATION = """converter up : step_up {
    output 24 V; output_limit 2 A; input 10 V .. 16 V; efficiency 90 %; idle 20 mA
}
load link : steady { power 12 W; works 20 V .. 28 V }
cable pack -> up.in { length 0.5 m; wire 2.5 mm2; fuse 5 A at pack }
cable up.out -> link { length 10 m; wire 1 mm2 }
"""


def test_a_12_v_battery_feeds_a_24_v_device():
    """12 W and some 0.1 W in the lead and the output, over 0.9, at 13.2 V: 1.02 A, and 20 mA."""
    run = solved_by_both(small_text(STATION, lasts="30 min", capacity="20 Ah", pack="charge 60 %"))
    assert np.all(volts_at(run, "link", "line") == pytest.approx(23.8, abs=0.1))
    drawn = amps_into(run, "up")
    assert drawn == pytest.approx(12.1 / 0.9 / volts_at(run, "up", "in") + 0.020, rel=0.005)
    assert imbalance(run) < 1e-6
