"""A repeater's sending, its tails and its time-out, worked by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.loads.repeater import Repeater

HILL: dict[str, Any] = {"waiting": 0.5, "transmit": 6.5}
LEAD = "cable pack -> hill { length 1 m; wire 6 mm2; fuse 20 A at pack }\n"


def hill(more: str) -> str:
    return f"load hill : repeater {{ waiting 0.5 A; transmit 6.5 A; {more} }}\n" + LEAD


def mean_amps(more: str, lasts: str = "2 h") -> np.ndarray:
    """What it draws on the mean in each minute from 08:00."""
    run = solved_by_both(small_text(hill(more), lasts=lasts, capacity="100 Ah"))
    assert imbalance(run) < 1e-6
    return amps_into(run, "hill")


def test_it_draws_its_controller_waiting_and_sending_and_the_controller_alone_when_off():
    values = settled(Repeater, **HILL, controller=0.1)
    assert law_at(Repeater, values, (13.0,), (), (1.0, 0.1, 0.0)) == pytest.approx((0.6,))
    assert law_at(Repeater, values, (13.0,), (), (1.0, 0.1, 1.0)) == pytest.approx((6.6,))
    assert law_at(Repeater, values, (13.0,), (), (0.0, 0.0, 0.0)) == pytest.approx((0.1,))


def test_a_tail_of_three_seconds_after_overs_of_fifteen_adds_a_fifth():
    """10 % of talking becomes 12 % of sending: 0.1 + 0.5 + 0.12 x 6 A = 1.32 A."""
    amps = mean_amps("controller 100 mA; transmitting 10 %; tail 3 s; over 15 s")
    assert amps == pytest.approx(1.32, rel=1e-3)


def test_short_overs_have_more_tails():
    """Overs of 3 s with tails of 3 s double it: 0.6 + 0.2 x 6 A = 1.8 A."""
    assert mean_amps("transmitting 10 %; tail 3 s; over 3 s") == pytest.approx(1.8, rel=1e-3)


def test_it_sends_no_more_than_all_of_the_time():
    assert mean_amps("transmitting 95 %; tail 10 s; over 10 s") == pytest.approx(6.6, rel=1e-3)


def test_a_stuck_signal_without_a_time_out_is_sent_to_its_end():
    amps = mean_amps("transmitting 0 %; stuck 100 % from 08:30 to 09:00, otherwise 0 %")
    assert amps[:30] == pytest.approx(0.6, rel=1e-3)
    assert amps[30:60] == pytest.approx(6.6, rel=1e-3)
    assert amps[60:] == pytest.approx(0.6, rel=1e-3)


def test_the_time_out_silences_it_until_the_stuck_signal_is_gone():
    """Three minutes of sending, then neither the signal nor the traffic is sent."""
    amps = mean_amps(
        "transmitting 10 %; tail 0 s; time_out 3 min; "
        "stuck 100 % from 08:30 to 09:00, otherwise 0 %"
    )
    assert amps[:30] == pytest.approx(1.2, rel=1e-3)
    assert amps[30:33] == pytest.approx(6.6, rel=1e-3)
    assert amps[33:60] == pytest.approx(0.6, rel=1e-3)
    assert amps[60:] == pytest.approx(1.2, rel=1e-3)


def test_a_signal_that_ends_before_the_time_out_is_sent_in_full():
    amps = mean_amps(
        "transmitting 0 %; time_out 10 min; stuck 100 % from 08:30 to 08:35, otherwise 0 %"
    )
    assert amps[30:35] == pytest.approx(6.6, rel=1e-3)


def test_what_is_stuck_all_day_has_timed_out_long_ago():
    assert mean_amps("transmitting 10 %; time_out 3 min; stuck 100 %") == pytest.approx(
        0.6, rel=1e-3
    )


def test_a_repeater_that_draws_less_sending_than_waiting_is_refused():
    with pytest.raises(ParameterProblem, match="waiting") as caught:
        settled(Repeater, waiting=6.5, transmit=0.5)
    assert caught.value.parameter == "transmit"
