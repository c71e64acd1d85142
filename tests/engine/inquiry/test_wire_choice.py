"""Which wire a cable wants, against figures worked out by hand.

A load that takes a fixed current makes the drop a product: both conductors of a cable, at the ohms
per kilometre of class 5 copper (IEC 60228).
"""

from __future__ import annotations

import pytest
from support.building import SITE, station_of

from copperpath.inquiry.budget import Budget
from copperpath.inquiry.inquiry import StationInquiry
from copperpath.inquiry.wire_choice import WireChoice, choose_wires, direct_current, fuse_places
from copperpath.report.wire_screen import overview

NAME = "pack -> rig"
OHM_PER_M = {"1.5 mm2": 13.3e-3, "2.5 mm2": 7.98e-3, "4 mm2": 4.95e-3, "6 mm2": 3.30e-3}


def text(entries: str) -> str:
    return (
        SITE
        + """storage pack : lfp { cells 4; capacity 100 Ah }
load rig : transceiver {
    receive 0.4 A; transmit 10 A; transmitting 10 %; mode fm; works 9 V .. 15 V
}
"""
        + f"cable pack -> rig {{ {entries} }}\n"
    )


def choice(entries: str, *, every: bool = True) -> WireChoice:
    inquiry = StationInquiry(station_of(text(entries)))
    return choose_wires(inquiry, [NAME], "craft", every=every)[0]


@pytest.mark.parametrize("size", sorted(OHM_PER_M))
def test_the_drop_of_a_size_is_amps_times_the_ohms_of_both_conductors(size: str) -> None:
    found = choice("length 4 m; wire 2.5 mm2")
    tried = next(each for each in found.tried if each.size == size)
    lost = 10.0 * 2 * 4 * OHM_PER_M[size]
    given = tried.volts + lost
    assert tried.drop == pytest.approx(lost / given, rel=1e-6)
    assert tried.loss_w == pytest.approx(10.0 * lost, rel=1e-6)


def test_the_smallest_size_is_the_first_that_loses_three_percent_for_a_radio() -> None:
    """10 A over 5 m: 2.5 mm² lose 0.80 V, 4 mm² 0.50 V, 6 mm² 0.33 V; 3 % of 12 to 13 V are 0.36
    to 0.39 V."""
    found = choice("length 5 m; wire 2.5 mm2")
    assert found.smallest == "6 mm2"
    assert not found.enough


def test_a_lead_of_half_the_length_does_with_a_thinner_wire() -> None:
    """10 A over 2.5 m: 2.5 mm² lose 0.40 V, 4 mm² 0.25 V."""
    found = choice("length 2.5 m; wire 4 mm2")
    assert found.smallest == "4 mm2"
    assert found.enough


def test_what_flows_for_long_is_the_mean_of_the_mode_and_never_above_the_peak() -> None:
    found = choice("length 1 m; wire 4 mm2")
    assert found.peak_a == pytest.approx(10.0, abs=1e-6)
    # A carrier stands for as long as FM sends.
    assert found.lasting_a == pytest.approx(10.0, abs=1e-6)


def test_the_fuse_is_the_next_above_a_quarter_more_than_what_flows() -> None:
    """1.25 times 10 A are 12.5 A; of blade fuses 15 A is the next."""
    assert choice("length 1 m; wire 6 mm2; fuse 5 A at pack; fuse_kind blade").fuse_a == 15.0


def test_a_fuse_that_is_there_and_large_enough_stays() -> None:
    found = choice("length 1 m; wire 6 mm2; fuse 13 A at pack; fuse_kind blade")
    assert found.fuse_a == 13.0


def test_without_every_size_only_those_that_may_carry_it_are_tried_and_the_same_one_is_chosen() -> (
    None
):
    some, every = (
        choice("length 5 m; wire 2.5 mm2", every=False),
        choice("length 5 m; wire 2.5 mm2"),
    )
    assert len(some.tried) < len(every.tried)
    assert some.smallest == every.smallest


def test_thicker_wire_loses_less_in_every_size() -> None:
    drops = [each.drop for each in choice("length 3 m; wire 4 mm2").tried]
    assert drops == sorted(drops, reverse=True)


def test_a_cable_of_a_gauge_is_tried_in_gauges() -> None:
    assert all(each.size.endswith("AWG") for each in choice("length 3 m; wire 12 AWG").tried)


def test_a_lead_that_no_size_is_enough_for_wants_none() -> None:
    """10 A over 400 m of 120 mm² (0.161 ohm/km) lose 1.3 V."""
    found = choice("length 400 m; wire 50 mm2")
    assert found.smallest == ""
    assert not found.enough


def test_a_cable_without_a_length_is_not_chosen_for() -> None:
    inquiry = StationInquiry(station_of(text("wire 4 mm2")))
    assert direct_current(inquiry) == []


def test_a_fuse_breaks_what_the_file_says_before_what_its_kind_does() -> None:
    said = "length 1 m; wire 4 mm2; fuse 15 A at pack; fuse_kind blade; fuse_interrupts 2 kA"
    (place,) = fuse_places(StationInquiry(station_of(text(said))))
    assert (place.terminal, place.rating_a, place.breaks_a) == ("pack.line", 15.0, 2000.0)
    (usual,) = fuse_places(
        StationInquiry(station_of(text(said.replace("; fuse_interrupts 2 kA", ""))))
    )
    assert usual.breaks_a == 1000.0


def test_what_is_too_large_to_be_solved_again_is_left_out_and_counted_on_the_screen() -> None:
    inquiry = StationInquiry(station_of(text("length 1 m; wire 4 mm2")), budget=Budget(0.0))
    choices = choose_wires(inquiry, [NAME], "craft")
    assert choices == []
    assert "1 more cable not tried" in overview("Bog", choices, [], "craft", left=1)
