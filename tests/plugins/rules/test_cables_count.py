"""Every cable on the way counts: changing one moves the number that a rule has read."""

from __future__ import annotations

import itertools

import pytest
from support.building import station_of
from support.gallery import Case, cases, rules

from copperpath.inquiry.inquiry import StationInquiry
from copperpath.plugin_api.edits import Edit, SetFuse, SetLength, SetWire
from copperpath.plugin_api.rule import Reading

FALLS = ("keyed-volts", "low-power", "converter-input")
CARRIES = ("line-cannot-carry", "long-data-power")
SCALES = (1.1, 1.5, 2.0)


def of(*names: str, but: str = "") -> list[object]:
    """The cases of some rules, as parameters, one of them left out."""
    return [
        pytest.param(case, id=f"{case.rule}: {case.fault}")
        for case in cases()
        if case.rule in names and case.path.stem != but
    ]


def inquiry_of(case: Case) -> StationInquiry:
    return StationInquiry(station_of(case.text))


def reading_of(case: Case, inquiry: StationInquiry, subject: str, place: str = "") -> Reading:
    found = [
        each
        for each in rules()[case.rule].judge(inquiry)
        if each.subject == subject and place in ("", each.place)
    ]
    assert len(found) == 1
    return found[0]


def subject_of(case: Case) -> str:
    return case.expected.split(" ", 2)[2]


def way_to(inquiry: StationInquiry, device: str) -> tuple[str, ...]:
    feed = inquiry.feed(inquiry.supply_terminal(device))
    assert feed is not None
    return feed.cables


def longer(inquiry: StationInquiry, cable: str, times: float) -> StationInquiry:
    length = inquiry.cable(cable).length_m
    assert length is not None
    return inquiry.edited(SetLength(cable, times * length))


@pytest.mark.parametrize("case", of(*FALLS))
def test_the_number_falls_with_the_length_of_each_cable_on_the_way(case: Case) -> None:
    inquiry, subject = inquiry_of(case), subject_of(case)
    for cable in way_to(inquiry, subject):
        tried = [inquiry, *(longer(inquiry, cable, times) for times in SCALES)]
        values = [reading_of(case, each, subject).value or 0.0 for each in tried]
        assert all(late < early for early, late in itertools.pairwise(values))


@pytest.mark.parametrize("case", of("line-drop"))
def test_the_drop_grows_with_the_length_of_each_cable_on_the_way(case: Case) -> None:
    inquiry, subject = inquiry_of(case), subject_of(case)
    for cable in way_to(inquiry, subject):
        tried = [inquiry, *(longer(inquiry, cable, times) for times in SCALES)]
        values = [reading_of(case, each, subject).value or 0.0 for each in tried]
        assert all(late > early for early, late in itertools.pairwise(values))


@pytest.mark.parametrize("case", of(*CARRIES))
def test_what_a_line_carries_falls_with_the_length_of_each_cable_on_the_way(case: Case) -> None:
    inquiry, subject = inquiry_of(case), subject_of(case)
    for cable in way_to(inquiry, subject):
        tried = [inquiry, *(longer(inquiry, cable, times) for times in SCALES)]
        limits = [reading_of(case, each, subject).limit or 0.0 for each in tried]
        assert all(late < early for early, late in itertools.pairwise(limits))


@pytest.mark.parametrize("case", of("wire-is-the-fuse", but="size_not_given"))
def test_what_a_wire_may_carry_grows_with_its_size(case: Case) -> None:
    inquiry, subject = inquiry_of(case), subject_of(case)
    sizes = inquiry.larger_wires(inquiry.cable(subject))[:3]
    tried = [inquiry, *(inquiry.edited(SetWire(subject, size)) for size in sizes)]
    limits = [reading_of(case, each, subject).limit or 0.0 for each in tried]
    assert all(late > early for early, late in itertools.pairwise(limits))


@pytest.mark.parametrize("case", of("fuse-near-load"))
def test_the_rating_that_is_read_is_that_of_the_fuse(case: Case) -> None:
    inquiry, subject = inquiry_of(case), subject_of(case)
    fuse = inquiry.cable(subject).fuses[0]
    edit: Edit = SetFuse(subject, fuse.end, 2.0 * fuse.rating_a)
    value = reading_of(case, inquiry.edited(edit), subject).value
    assert value == pytest.approx(2.0 * fuse.rating_a)


@pytest.mark.parametrize("case", of("fuse-cannot-break"))
def test_a_short_behind_a_branch_fuse_falls_with_the_length_of_the_main(case: Case) -> None:
    inquiry = inquiry_of(case)
    tried = [inquiry, *(longer(inquiry, "pack -> strip.in", times) for times in SCALES)]
    values = [reading_of(case, each, "strip.1 -> rig").value or 0.0 for each in tried]
    assert all(late < early for early, late in itertools.pairwise(values))
