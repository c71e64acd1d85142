"""What opens when a cable is shorted, against what somebody reads off the diagram."""

from __future__ import annotations

import math

import pytest
from support.building import SITE, station_of

from copperpath.plugin_api import Protection
from copperpath.wiring.protection import Protections
from copperpath.wiring.wiring import Wiring

TREE = (
    SITE
    + """storage pack : lfp { capacity 50 Ah }
block a : strip { ways 2; rating 30 A }
load rig : transceiver { receive 0.3 A; transmit 9 A; transmitting 15 % }
cable pack -> a.in { length 1 m; wire 4 mm2; fuse 30 A at pack }
cable a.1 -> rig { length 1 m; wire 2.5 mm2; fuse 15 A at a }
"""
)
SECOND = """storage spare : lfp { capacity 50 Ah }
cable spare -> a.2 { length 1 m; wire 4 mm2; fuse 40 A at spare }
"""


def protections(text: str, name: str) -> tuple[Protection, ...]:
    wiring = Wiring(station_of(text))
    return Protections(wiring).of(wiring.cables[name])


def worst(text: str, name: str) -> tuple[str, float, str]:
    """End, rating and what opens, for the current that is let through most."""
    first = protections(text, name)[0]
    return first.end, first.rating_a, first.by


def test_a_fuse_at_the_end_where_current_comes_in_opens() -> None:
    assert worst(TREE, "a.1 -> rig") == ("start", 15.0, "a.1 -> rig")


def test_a_tail_without_a_fuse_hangs_on_the_one_before_it() -> None:
    bare = TREE.replace("; fuse 15 A at a", "")
    assert worst(bare, "a.1 -> rig") == ("start", 30.0, "pack -> a.in")


def test_a_fuse_at_the_far_end_does_not_open_what_comes_in_at_the_near_one() -> None:
    far = TREE.replace("fuse 15 A at a", "fuse 15 A at rig")
    assert worst(far, "a.1 -> rig") == ("start", 30.0, "pack -> a.in")


def test_of_a_tail_only_the_near_end_lets_current_in() -> None:
    assert [each.end for each in protections(TREE, "a.1 -> rig")] == ["start"]


def test_a_lead_of_one_battery_is_also_fed_by_the_other_from_its_far_end() -> None:
    found = {(p.end, p.giver): p.rating_a for p in protections(TREE + SECOND, "pack -> a.in")}
    assert found == {("start", "pack.line"): 30.0, ("end", "spare.line"): 40.0}


def test_of_two_batteries_the_one_that_lets_most_through_counts() -> None:
    bare = (TREE + SECOND).replace("; fuse 15 A at a", "")
    assert worst(bare, "a.1 -> rig") == ("start", 40.0, "spare -> a.2")


def test_nothing_opens_where_there_is_no_fuse() -> None:
    bare = TREE.replace("; fuse 30 A at pack", "")
    assert worst(bare, "pack -> a.in")[1:] == (math.inf, "")


def test_in_a_ring_the_way_with_the_larger_fuse_counts() -> None:
    ring = TREE.replace("; fuse 15 A at a", "") + (
        "cable a.2 -> rig { length 1 m; wire 2.5 mm2; fuse 10 A at a }\n"
    )
    # Round the ring: over the first cable, which has no fuse, to the far end of the second.
    found = {p.end: p.rating_a for p in protections(ring, "a.2 -> rig")}
    assert found == {"start": 10.0, "end": 30.0}
    assert worst(ring, "a.1 -> rig") == ("start", 30.0, "pack -> a.in")


@pytest.mark.parametrize("kind", ["fuse", "breaker"])
def test_a_fuse_and_a_breaker_in_the_line_open_for_what_lies_behind(kind: str) -> None:
    text = (
        SITE
        + f"""storage pack : lfp {{ capacity 50 Ah }}
block k : {kind} {{ rating 10 A }}
load lamp : steady {{ power 5 W }}
cable pack -> k.line {{ length 1 m; wire 4 mm2 }}
cable k.load -> lamp {{ length 1 m; wire 1 mm2 }}
"""
    )
    assert worst(text, "k.load -> lamp") == ("start", 10.0, "k")
    assert worst(text, "pack -> k.line") == ("start", math.inf, "")


def test_a_supply_that_cannot_give_more_protects_by_itself() -> None:
    text = (
        SITE
        + """source bench : supply { voltage 13.8 V; limit 20 A }
load lamp : steady { power 5 W }
cable bench -> lamp { length 1 m; wire 1 mm2 }
"""
    )
    assert worst(text, "bench -> lamp") == ("start", 20.0, "itself")


def test_a_panel_gives_its_short_circuit_current_in_bright_light() -> None:
    """Two strings of 6 A, times 1.25 (NEC 690.8(A)(1))."""
    text = (
        SITE
        + """source p : photovoltaic {
    power 100 W; vmp 18 V; voc 22 V; isc 6 A; parallel 2; mount flat
}
converter c : mppt_charger { output_limit 20 A; max_input 60 V }
storage pack : lfp { capacity 50 Ah }
cable p -> c.panel { length 5 m; wire 4 mm2 }
cable c.battery -> pack { length 1 m; wire 4 mm2; fuse 30 A at pack }
"""
    )
    first = protections(text, "p -> c.panel")[0]
    assert (first.giver, first.rating_a, first.by) == ("p.out", pytest.approx(15.0), "itself")
    other = {(p.end, p.giver): p.rating_a for p in protections(text, "c.battery -> pack")}
    assert other == {("start", "c.battery"): 20.0, ("end", "pack.line"): 30.0}
