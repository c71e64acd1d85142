"""The fuse at single points and opening in a station; its opening times are held against the
standard in `outside/checks/fuses.py`."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled, signals_at
from support.small_station import small_text

from copperpath_plugins.blocks.fuse import Fuse

LEADS = """
cable pack -> main.line { length 0.2 m; wire 4 mm2; fuse 40 A at pack }
cable main.load -> lamp { length 1 m; wire 2.5 mm2 }
"""


def opens_after(times_rating: float, rating: float = 10.0) -> float:
    """How long a cold fuse lasts [s] by the rate of damage it tells; infinite if it heals."""
    values = settled(Fuse, rating=rating)
    drop = times_rating * rating * values["ohm"]
    rate = signals_at(Fuse, values, (12.0, 12.0 - drop), (0.0, 0.0))[0]
    return 1.0 / rate if rate > 0.0 else math.inf


def test_its_energy_to_melt_is_that_of_a_published_fuse():
    """3300 A²s for a regular blade of 40 A (a maker's typical figure); at six times its rating
    ours lies within a factor of two, as fuses of one kind do."""
    current = 6.0 * 40.0
    assert 1650.0 < opens_after(6.0, 40.0) * current**2 < 6600.0


def test_what_it_loses_at_its_rating_is_what_is_published_for_a_cold_fuse():
    """1.44 mohm at 40 A, a maker's data; the holder is counted apart."""
    values = settled(Fuse, rating=40.0, holder=0.0)
    assert values["ohm"] == pytest.approx(1.44e-3)


def test_a_blown_fuse_passes_nothing_whatsoever():
    values = settled(Fuse, rating=10.0)
    assert law_at(Fuse, values, (13.0, 0.0), (0.0, 1.0)) == (0.0, 0.0)
    assert law_at(Fuse, values, (13.0, 0.0), (1.0, 0.0)) == (0.0, 0.0)


def lamp(amps: float, hours: str = "") -> str:
    return (
        "block main : fuse { rating 10 A }\n"
        f"load lamp : steady {{ current {amps} A; works 9 V .. 15 V; {hours} }}\n" + LEADS
    )


def test_it_opens_for_good_in_a_station():
    """At 1.35 times its rating 1.43 s x 0.81 / 0.0625 = 18.5 s: whole after 18 steps of a second,
    gone after 19, and still gone when the lamp has been off for long."""
    text = small_text(lamp(13.5, "on 08:01 to 08:02"), lasts="10 min", capacity="20 Ah")
    run = solved_by_both(text, 1.0)
    amps = amps_into(run, "lamp")
    assert np.all(amps[60:79] > 13.0)
    assert np.all(np.abs(amps_into(run, "main")[79:]) == 0.0)
    assert remembered(run, "main", "blown")[-1] == 1.0
    assert first_time(remembered(run, "main", "blown") > 0.5) == 80
    assert imbalance(run) < 1e-6


def test_it_carries_its_rating_all_day():
    text = small_text(lamp(10.0), lasts="20 h", capacity="400 Ah")
    run = solved_by_both(text, 600.0)
    assert not remembered(run, "main", "damage").any()


def test_a_short_overload_is_forgotten():
    """Five seconds at 1.35 times the rating do a quarter of the damage; five minutes later a
    third of that is left (300 s to forget), an hour later nothing."""
    hours = "on 08:01 to 08:02"
    text = small_text(lamp(11.5, hours), lasts="30 min", capacity="20 Ah")
    run = solved_by_both(text, 1.0)
    damage = remembered(run, "main", "damage")
    # 60 s at 0.05 above 1.1 times: 60 x 0.0025 / (1.43 x 0.81).
    assert damage[120] == pytest.approx(60.0 * 0.0025 / (1.43 * 0.81), rel=0.01)
    assert damage[420] == pytest.approx(damage[120] * math.exp(-1.0), rel=0.01)
