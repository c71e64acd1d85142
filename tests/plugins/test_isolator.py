"""The isolator: its drops, one direction only, and two batteries that stay apart."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled
from support.small_station import small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.blocks.isolator import Isolator


@pytest.mark.parametrize(("kind", "drop"), [("diodes", 0.45), ("transistors", 0.05)])
def test_at_its_rating_it_loses_its_drop(kind, drop):
    values = settled(Isolator, kind=kind, rating=70.0)
    _, first, second = law_at(Isolator, values, (14.0, 14.0 - drop, 14.0 - drop))
    assert (first, second) == (pytest.approx(-70.0), pytest.approx(-70.0))


@pytest.mark.parametrize(
    ("kind", "low", "high"), [("diodes", 0.2, 0.3), ("transistors", 5e-3, 0.02)]
)
def test_at_a_hundredth_of_its_rating_it_loses_less(kind, low, high):
    """5 to 20 mV for transistors is common practice, no source."""
    values = settled(Isolator, kind=kind, rating=70.0)
    amps = [-law_at(Isolator, values, (14.0, 14.0 - drop, 20.0))[1] for drop in (low, high)]
    assert amps[0] < 0.7 < amps[1]


@pytest.mark.parametrize("kind", ["diodes", "transistors"])
def test_nothing_flows_backwards_or_across(kind):
    values = settled(Isolator, kind=kind, rating=70.0, draw=0.0)
    for back in (0.0, 0.01, 13.0, 300.0):
        assert law_at(Isolator, values, (12.0, 12.0 + back, 12.0)) == (0.0, 0.0, 0.0)
        assert law_at(Isolator, values, (12.0, 12.0, 12.0 + back)) == (0.0, 0.0, 0.0)


def test_transistors_draw_two_milliamperes_at_the_input_and_diodes_none():
    drawn = [
        law_at(Isolator, settled(Isolator, kind=kind, rating=70.0), (12.0, 13.0, 13.0))[0]
        for kind in ("transistors", "diodes")
    ]
    assert drawn == [0.002, 0.0]


def test_a_drop_that_shrinks_with_the_current_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(Isolator, kind="diodes", rating=70.0, drop=0.3, drop_small=0.3)
    assert caught.value.parameter == "drop_small"


STATION = """storage spare : lfp {
    capacity 2 Ah; temperature 25 degC; available 100 %; resistance 20 mohm; charge 30 %
}
source car : supply { voltage 14.2 V; limit 20 A; on 08:00 to 08:20 }
block both : isolator { kind diodes; rating 30 A }
load lamp : steady { current 0.5 A; works 9 V .. 15 V }
cable car -> both.in { length 1 m; wire 4 mm2; fuse 30 A at car }
cable both.first -> pack { length 1 m; wire 4 mm2; fuse 30 A at pack }
cable both.second -> spare { length 1 m; wire 4 mm2; fuse 30 A at spare }
cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }
"""


def test_two_batteries_are_charged_by_one_source_and_one_alone_feeds_its_lamp():
    """While the source is on both take; then the lamp's battery gives and the other rests."""
    run = solved_by_both(small_text(STATION, lasts="2 h", pack="charge 60 %"))
    pack, spare = amps_into(run, "pack"), amps_into(run, "spare")
    assert np.all(pack[:20] > 0.0)
    assert np.all(spare[:20] > 0.0)
    assert np.all(np.abs(pack[21:] + 0.5) < 1e-3)
    assert np.all(np.abs(spare[21:]) < 1e-6)  # the solver's leak: 13 nA a node at 13 V
    charge = remembered(run, "spare", "charge")
    assert charge[-1] == pytest.approx(charge[21])
    assert imbalance(run) < 1e-6


def test_diodes_keep_a_source_a_drop_above_the_batteries():
    run = solved_by_both(small_text(STATION, lasts="2 h", pack="charge 60 %"))
    lost = volts_at(run, "both", "in") - volts_at(run, "both", "first")
    assert np.all((lost[:20] > 0.2) & (lost[:20] < 0.45))
