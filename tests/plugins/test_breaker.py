"""The breaker: how long it lasts, what it loses, and the hand that closes it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled, signals_at
from support.small_station import small_text

from copperpath_plugins.blocks.breaker import Breaker

CLOSED = (0.0, 0.0)


def opens_after(times_rating: float, rating: float = 30.0) -> float:
    """How long a cold breaker lasts [s] by the warmth it gains; infinite if it gains none."""
    values = settled(Breaker, rating=rating)
    drop = times_rating * rating * values["ohm"]
    rate = signals_at(Breaker, values, (12.0, 12.0 - drop), CLOSED)[0]
    return 1.0 / rate if rate > 0.0 else math.inf


@pytest.mark.parametrize("rating", [5.0, 30.0, 150.0])
def test_it_carries_its_rating_and_opens_sooner_the_greater_the_overload(rating):
    """At twice its rating 20 s; at 135 % 20 s x 0.81 / 0.0625; at six times 20 s x 0.81 / 24."""
    assert opens_after(1.0, rating) == math.inf
    assert opens_after(1.35, rating) == pytest.approx(259.2)
    assert opens_after(2.0, rating) == pytest.approx(20.0)
    assert opens_after(6.0, rating) == pytest.approx(20.0 * 0.81 / 4.9**2)


def test_it_loses_60_mv_and_what_its_terminals_lose_at_its_rating():
    """30 A: 2 mohm and half a milliohm."""
    line, load = law_at(Breaker, settled(Breaker, rating=30.0), (13.0, 13.0 - 0.075), CLOSED)
    assert (line, load) == (pytest.approx(30.0), pytest.approx(-30.0))


@pytest.mark.parametrize("states", [(0.2, 1.0), (1.0, 0.0)])
def test_open_it_passes_nothing_whatsoever(states):
    assert law_at(Breaker, settled(Breaker, rating=30.0), (13.0, 0.0), states) == (0.0, 0.0)


STATION = """block main : breaker {{ rating 5 A; {hand} }}
load lamp : steady {{ current 10 A; works 9 V .. 15 V; on 08:01 to {until} }}
cable pack -> main.line {{ length 0.2 m; wire 4 mm2; fuse 40 A at pack }}
cable main.load -> lamp {{ length 1 m; wire 2.5 mm2 }}
"""


def station(hand: str, until: str) -> str:
    text = STATION.format(hand=hand, until=until)
    return small_text(text, lasts="20 min", capacity="40 Ah")


def test_it_opens_in_a_station_and_nobody_closes_it():
    """Twice its rating from the first minute on: whole for 20 steps of a second, then open."""
    run = solved_by_both(station("", "08:03"), 1.0)
    amps = amps_into(run, "main")
    assert np.all(amps[60:79] == pytest.approx(10.0, abs=0.01))
    assert np.all(amps[81:] == 0.0)
    assert remembered(run, "main", "opened")[-1] == 1.0
    assert imbalance(run) < 1e-6


def test_a_hand_closes_it_after_its_time_and_it_holds_if_the_overload_is_gone():
    run = solved_by_both(station("closed_after 5 min", "08:02"), 1.0)
    opened = remembered(run, "main", "opened") > 0.5
    first = first_time(opened)
    assert first_time(~opened[first:]) == 300
    assert not opened[first + 300 :].any()


def test_closed_on_the_same_overload_it_opens_again():
    """Cooled for five minutes it lasts its 20 s once more."""
    run = solved_by_both(station("closed_after 5 min", "08:19"), 1.0)
    opened = remembered(run, "main", "opened") > 0.5
    closed = first_time(opened) + 300
    assert first_time(opened[closed:]) == pytest.approx(20, abs=1)
