"""A dock and its handhelds over a day, worked by hand."""

from __future__ import annotations

import pytest
from support.device_runs import first_time, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath.record.figures import powered_steps
from copperpath.record.run import Run
from copperpath_plugins.loads.dock import Dock

WATT_HOUR = 3600.0
LEAD = "cable pack -> dock { length 1 m; wire 6 mm2; fuse 10 A at pack }\n"


def docked(more: str, lasts: str = "24 h") -> Run:
    load = f"load dock : dock {{ handhelds 4; battery 12 Wh; {more} }}\n"
    return solved_by_both(small_text(load + LEAD, lasts=lasts, capacity="100 Ah"))


def test_it_takes_standby_tail_and_charging_of_each_handheld():
    """0.3 W and four times 0.15 W and 7 W; full 0.9 W in all; out 0.3 W."""
    values = settled(Dock, handhelds=4.0, battery=12 * WATT_HOUR, needs=0.0, charge_power=7.0)
    for charge, inside, watts in ((0.5, 1.0, 28.9), (1.0, 1.0, 0.9), (0.5, 0.0, 0.3)):
        (amps,) = law_at(Dock, values, (12.0,), (charge,), (1.0, inside))
        assert 12.0 * amps == pytest.approx(watts)


def test_the_handhelds_use_their_day_while_out_and_are_full_again_by_morning():
    """6 Wh of 12 Wh between 08:00 and 18:00; back at 7 W and 85 %, about an hour and the taper."""
    run = docked("needs 6 Wh/day; out 08:00 to 18:00")
    charge = remembered(run, "dock", "charge")
    assert charge[300] == pytest.approx(0.75)
    assert charge[600] == pytest.approx(0.5)
    assert charge[-1] > 0.999
    assert imbalance(run) < 1e-6


def test_what_a_day_takes_is_what_was_used_by_its_efficiency_with_tail_and_standby():
    """4 x 6 Wh / 0.85 = 28.24 Wh, 14 h x 4 x 0.15 W = 8.4 Wh, 24 h x 0.3 W = 7.2 Wh."""
    run = docked("needs 6 Wh/day; out 08:00 to 18:00")
    volts = run.terminal_volts(run.problem.station.device("dock"))
    joules = run.energy(run.weighted(run.flows["dock"].amps[0] * volts))
    assert joules / WATT_HOUR == pytest.approx(28.24 + 8.4 + 7.2, rel=1e-3)


def test_it_is_short_once_the_handhelds_are_empty_while_out():
    """24 Wh a day in ten hours empty 12 Wh in five."""
    run = docked("needs 24 Wh/day; out 08:00 to 18:00")
    steps = powered_steps(run, run.problem.station.device("dock"))
    assert steps is not None
    assert first_time(~steps[1]) in (299, 300)
    assert steps[1][600:].all()


def test_handhelds_that_are_never_out_cannot_use_anything():
    with pytest.raises(ParameterProblem, match="never out of the dock"):
        settled(Dock, handhelds=4.0, battery=12 * WATT_HOUR, needs=0.25)
