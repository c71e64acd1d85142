"""How terminals are fed and what hangs together, on stations small enough to be seen at once."""

from __future__ import annotations

import pytest
from support.building import SITE, station_of

from copperpath.wiring.feed import Feeds
from copperpath.wiring.wiring import Wiring

RING = (
    SITE
    + """storage pack : lfp { capacity 50 Ah }
block a : strip { ways 3; rating 30 A }
load rig : transceiver { receive 0.3 A; transmit 9 A; transmitting 15 % }
load lamp : steady { power 5 W }
cable pack -> a.in { length 1 m; wire 4 mm2 }
cable a.1 -> rig { length 1 m; wire 2.5 mm2 }
cable a.2 -> rig { length 5 m; wire 2.5 mm2 }
cable a.3 -> lamp { length 2 m; wire 1.5 mm2 }
"""
)
CHARGER = (
    SITE
    + """source bench : supply { voltage 13.8 V; limit 20 A }
converter five : step_down { output 5 V; output_limit 3 A; input 9 V .. 30 V }
load phone : usb_device { needs 5 Wh/day }
cable bench -> five.in { length 1 m; wire 1 mm2 }
cable five.out -> phone { length 1 m; wire 24 AWG }
"""
)


def wiring_of(text: str) -> Wiring:
    return Wiring(station_of(text))


def test_the_way_of_a_load_is_that_of_least_resistance() -> None:
    feed = Feeds(wiring_of(RING)).of("rig.line")
    assert feed is not None
    assert feed.giver == "pack.line"
    assert feed.cables == ("pack -> a.in", "a.1 -> rig")
    assert feed.blocks == ("a",)


def test_the_resistance_of_a_way_is_the_sum_of_its_cables_and_blocks() -> None:
    wiring = wiring_of(RING)
    feed = Feeds(wiring).of("lamp.line")
    assert feed is not None
    (inside,) = (line.ohm for line in wiring.lines if line.end == "a.3" and not line.cable)
    # Both conductors of class 5 copper: 4.95 and 13.3 ohm/km (IEC 60228).
    by_hand = 2 * 1 * 4.95e-3 + 2 * 2 * 13.3e-3 + inside
    assert feed.ohm == pytest.approx(by_hand, rel=1e-6)


def test_a_store_feeds_a_load_though_a_source_is_nearer() -> None:
    text = RING + (
        "source bench : supply { voltage 13.8 V; limit 20 A }\n"
        "cable bench -> lamp { length 0.1 m; wire 16 mm2 }\n"
    )
    feed = Feeds(wiring_of(text)).of("lamp.line")
    assert feed is not None
    assert feed.giver == "pack.line"


def test_of_two_stores_the_nearer_one_by_resistance_feeds_a_load() -> None:
    text = RING + (
        "storage spare : lfp { capacity 50 Ah }\ncable spare -> lamp { length 1 m; wire 16 mm2 }\n"
    )
    feeds = Feeds(wiring_of(text))
    lamp, rig = feeds.of("lamp.line"), feeds.of("rig.line")
    assert lamp is not None
    assert rig is not None
    assert (lamp.giver, rig.giver) == ("spare.line", "pack.line")


def test_a_converter_s_output_is_fed_by_the_converter_and_its_input_by_what_is_before_it() -> None:
    feeds = Feeds(wiring_of(CHARGER))
    phone, five = feeds.of("phone.line"), feeds.of("five.in")
    assert phone is not None
    assert five is not None
    assert (phone.giver, five.giver) == ("five.out", "bench.line")


def test_nothing_feeds_what_hangs_on_loads_alone() -> None:
    text = RING + (
        "load far : steady { power 5 W }\nload further : steady { power 5 W }\n"
        "cable far -> further { length 1 m; wire 1 mm2 }\n"
    )
    assert Feeds(wiring_of(text)).of("far.line") is None


def test_a_store_is_not_fed_by_itself() -> None:
    assert Feeds(wiring_of(RING)).of("pack.line") is None


def test_a_converter_s_two_sides_are_not_joined() -> None:
    joined = wiring_of(CHARGER).joined("five.in")
    assert joined == frozenset({"bench.line", "five.in"})


def test_of_a_ring_no_cable_is_the_only_way() -> None:
    assert wiring_of(RING).only_ways == frozenset({"pack -> a.in", "a.3 -> lamp"})


def test_of_two_cables_side_by_side_neither_is_the_only_way() -> None:
    text = RING + "cable pack -> a.in { length 2 m; wire 4 mm2 }\n"
    assert wiring_of(text).only_ways == frozenset({"a.3 -> lamp"})
