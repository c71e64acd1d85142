"""A modem's idle, sending and burst power, worked by hand."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import imbalance, solved_by_both
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem, Schedule
from copperpath_plugins.loads.modem import Modem

BURSTS = {"idle": 1.0, "sending": 3.0, "peak": 9.0, "transmitting": Schedule((), 0.1)}


def test_it_takes_idle_then_peak_then_its_sleep():
    values = settled(Modem, **BURSTS, asleep=0.5)
    assert law_at(Modem, values, (12.0,), (), (1.0, 0.1, 0.0)) == pytest.approx((1.0 / 12.0,))
    assert law_at(Modem, values, (12.0,), (), (1.0, 0.1, 1.0)) == pytest.approx((0.75,))
    assert law_at(Modem, values, (12.0,), (), (0.0, 0.0, 0.0)) == pytest.approx((0.5 / 12.0,))


def test_bursts_fill_so_much_of_the_time_that_the_mean_is_that_of_sending():
    """A quarter of the time at 9 W and the rest at 1 W is 3 W."""
    assert settled(Modem, **BURSTS)["mode_mean"] == pytest.approx(0.25)


def test_a_modem_without_bursts_is_fully_keyed_while_it_sends():
    values = settled(Modem, idle=1.0, sending=3.0, transmitting=Schedule((), 0.1))
    assert (values["most"], values["mode_mean"]) == (3.0, 1.0)


def test_the_mean_counts_the_sending_and_the_worst_instant_stands_in_a_burst():
    """1 W and 10 % of 2 W more are 1.2 W on the mean; 9 W in the worst instant."""
    text = small_text(
        "load modem : modem { idle 1 W; sending 3 W; peak 9 W; transmitting 10 % }\n"
        "cable pack -> modem { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n",
        lasts="1 h",
        capacity="100 Ah",
    )
    run = solved_by_both(text)
    volts = run.terminal_volts(run.problem.station.device("modem"))
    watts = run.flows["modem"].amps[0] * volts
    assert run.weighted(watts) == pytest.approx(1.2, rel=1e-3)
    assert np.nanmax(watts[:, run.problem.columns.worst]) == pytest.approx(9.0, rel=1e-6)
    assert imbalance(run) < 1e-6


@pytest.mark.parametrize(("name", "watts"), [("sending", 0.5), ("peak", 2.0)])
def test_a_power_below_the_one_it_contains_is_refused(name: str, watts: float):
    with pytest.raises(ParameterProblem, match="is below the") as caught:
        settled(Modem, **(BURSTS | {name: watts}))
    assert caught.value.parameter == name
