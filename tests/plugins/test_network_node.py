"""A network node at the end of its data cable, against the figures of IEEE 802.3 clause 33."""

from __future__ import annotations

import pytest
from support.device_runs import amps_into, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled, signals_at
from support.small_station import SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.loads.network_node import NetworkNode

COPPER_24_AWG = 0.0842
"""Ohm a metre at 20 degC, solid copper of 0.2047 mm2 (ASTM B258, from memory)."""


@pytest.mark.parametrize(
    ("feed", "watts", "source_v", "source_w", "device_v", "loop_ohm"),
    [("type_1", 12.95, 44.0, 15.4, 37.0, 20.0), ("type_2", 25.5, 50.0, 30.0, 42.5, 12.5)],
)
def test_the_published_worst_case_of_a_granted_feed_is_met(
    feed: str, watts: float, source_v: float, source_w: float, device_v: float, loop_ohm: float
):
    """IEEE 802.3 clause 33, from memory: least source volts, most power and loop at once."""
    metres = loop_ohm / COPPER_24_AWG
    pair = f"cable injector -> node {{ length {metres:.6g} m; wire 24 AWG; solid }}\n"
    text = SITE.format(lasts="10 min", sky="clear", more="") + (
        f"source injector : supply {{ voltage {source_v} V; limit 2 A; droop 0.1 mohm }}\n"
        f"load node : network_node {{ power {watts} W; start_factor 1; feed {feed}; "
        f"works {device_v - 0.1} V .. 57 V }}\n"
    )
    # Two conductors side by side each way: two cables of twice the loop each.
    run = solved_by_both(text + pair + pair)
    assert volts_at(run, "node", "line") == pytest.approx(device_v, rel=5e-3)
    given = -amps_into(run, "injector") * volts_at(run, "injector", "line")
    assert given == pytest.approx(source_w, rel=5e-3)
    assert imbalance(run) < 1e-6


def test_it_takes_half_as_much_again_while_it_starts():
    values = settled(NetworkNode, power=6.0)
    assert law_at(NetworkNode, values, (12.0,), (1.0,), (1.0,)) == pytest.approx((0.5,))
    assert law_at(NetworkNode, values, (12.0,), (0.0,), (1.0,)) == pytest.approx((0.75,))


def test_it_starts_anew_after_its_supply_was_gone_or_its_hours_began():
    values = settled(NetworkNode, power=6.0)
    assert signals_at(NetworkNode, values, (12.0,), (0.0,), (1.0,)) == (1.0, 0.0)
    assert signals_at(NetworkNode, values, (8.9,), (1.0,), (1.0,)) == (0.0, 1.0)
    assert signals_at(NetworkNode, values, (12.0,), (1.0,), (0.0,)) == (0.0, 1.0)


def test_its_start_lasts_as_long_as_it_is_told():
    text = SITE.format(lasts="1 h", sky="clear", more="") + (
        "source injector : supply { voltage 24 V; limit 2 A }\n"
        "load node : network_node { power 6 W; start_time 3 min; off 08:00 to 08:30 }\n"
        "cable injector -> node { length 10 m; wire 24 AWG; solid }\n"
    )
    run = solved_by_both(text)
    running = remembered(run, "node", "running")
    assert not running[2:33].any()
    assert running[33:].all()
    watts = amps_into(run, "node") * volts_at(run, "node", "line")
    assert watts[30:33] == pytest.approx(9.0)
    assert watts[33:] == pytest.approx(6.0)


def test_a_start_that_takes_more_than_is_granted_is_refused():
    with pytest.raises(ParameterProblem, match=r"13\.5 W while it starts") as caught:
        settled(NetworkNode, power=9.0, feed="type_1", works=(37.0, 57.0))
    assert caught.value.parameter == "feed"


def test_a_granted_device_that_stops_above_the_lowest_published_voltage_is_refused():
    with pytest.raises(ParameterProblem, match="must work from 37 V to 57 V"):
        settled(NetworkNode, power=6.0, feed="type_1", works=(40.0, 57.0))
