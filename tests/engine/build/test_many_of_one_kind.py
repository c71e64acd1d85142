"""Many of one kind: counts, indices and ranges become plain devices and cables."""

from __future__ import annotations

import pytest
from support.building import SITE, codes_of, station_of

from copperpath.required import ComparisonRequirement, PoweredRequirement

BASE = (
    SITE
    + """storage pack : lfp { capacity 12 Ah }
block strip : strip { ways 6; rating 30 A }
cable pack -> strip.in { length 0.4 m; wire 4 mm2; fuse 15 A at pack }
"""
)
SIX = "load handheld[6] : steady { power 2 W; mass 0.2 kg }\n"
LEADS = "cable strip.[1..6] -> handheld[1..6] { length 1 m; wire 1.5 mm2; fuse 3 A at strip }\n"
WHOLE = BASE + SIX + LEADS
LEAD = "{ length 1 m; wire 1.5 mm2 }"


def test_each_has_its_number_in_its_name() -> None:
    names = [device.name for device in station_of(WHOLE).devices]
    assert names[2:] == [f"handheld[{k}]" for k in range(1, 7)]


def test_ranges_are_matched_one_to_one() -> None:
    cables = station_of(WHOLE).cables
    assert [cable.name for cable in cables[1:]] == [
        f"strip.{k} -> handheld[{k}]" for k in range(1, 7)
    ]
    assert {fuse.end for cable in cables for fuse in cable.fuses} == {"start"}


def test_an_end_without_a_range_is_one_terminal_for_all() -> None:
    text = BASE + SIX + f"cable strip.2 -> handheld[1..6] {LEAD}\n"
    cables = station_of(text).cables[1:]
    assert {str(cable.start) for cable in cables} == {"strip.2"}
    assert len({str(cable.end) for cable in cables}) == 6


def test_a_range_may_begin_anywhere() -> None:
    text = BASE + SIX + LEADS.replace("strip.[1..6] -> handheld[1..6]", "strip.1 -> handheld[1..4]")
    text += f"cable strip.[3..4] -> handheld[5..6] {LEAD}\n"
    assert [cable.name for cable in station_of(text).cables[-2:]] == [
        "strip.3 -> handheld[5]",
        "strip.4 -> handheld[6]",
    ]


@pytest.mark.parametrize("count", ["6", "n", "2 * n / 2", "n - 1 + 1", "12 / 2"])
def test_a_count_may_be_reckoned(count: str) -> None:
    n = "let n = m + 2\nlet m = 4\n" if "n" in count else ""
    station = station_of(n + WHOLE.replace("handheld[6] :", f"handheld[{count}] :"))
    assert len(station.devices) == 8


def test_a_value_used_for_a_count_alone_is_used() -> None:
    assert codes_of("let n = 6\n" + WHOLE.replace("[6] :", "[n] :")) == []


@pytest.mark.parametrize(("count", "right"), [("1", True), ("500", True), ("501", False)])
def test_there_may_be_one_to_five_hundred_of_a_kind(count: str, right: bool) -> None:
    text = BASE + SIX.replace("[6]", f"[{count}]")
    text += f"cable strip.1 -> handheld[1..{count}] {LEAD}\n"
    assert ("build/bad-count" not in codes_of(text)) is right


def test_one_of_many_may_stand_alone_with_its_number() -> None:
    station = station_of(WHOLE + "require handheld[3].voltage >= 10 V\n")
    (requirement,) = station.requirements
    assert isinstance(requirement, ComparisonRequirement)
    assert (requirement.device, requirement.text) == (
        "handheld[3]",
        "handheld[3].voltage >= 10 V",
    )


def test_a_requirement_of_a_range_is_one_for_each() -> None:
    station = station_of(WHOLE + "require handheld[1..6] powered throughout\n")
    found = [each for each in station.requirements if isinstance(each, PoweredRequirement)]
    assert [each.load for each in found] == [f"handheld[{k}]" for k in range(1, 7)]
    assert found[1].text == "handheld[2] powered throughout"


@pytest.mark.parametrize("place", ["handheld", "handheld[1..6]", "end"])
def test_a_fuse_may_name_the_many(place: str) -> None:
    cables = station_of(WHOLE.replace("3 A at strip", f"3 A at {place}")).cables[1:]
    assert {fuse.end for cable in cables for fuse in cable.fuses} == {"end"}


def test_a_fuse_between_two_of_one_kind_says_which_end() -> None:
    text = WHOLE + "cable handheld[1] -> handheld[2] {PLACE}\n"
    lead = "{ length 1 m; wire 1 mm2; fuse 3 A at handheld }"
    assert codes_of(text.replace("{PLACE}", lead)) == ["build/fuse-place"]
    station = station_of(text.replace("{PLACE}", lead.replace("handheld }", "handheld[2] }")))
    assert [fuse.end for fuse in station.cables[-1].fuses] == ["end"]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        (f"cable strip.[1..4] -> handheld[1..6] {LEAD}", "build/counts-differ"),
        (f"cable strip.[1..1] -> handheld[1..6] {LEAD}", "build/counts-differ"),
        (f"cable strip.1 -> handheld {LEAD}", "build/which-of-many"),
        (f"cable strip.1 -> handheld[7] {LEAD}", "build/beyond-count"),
        (f"cable strip.1 -> handheld[0] {LEAD}", "build/bad-index"),
        (f"cable strip.1 -> handheld[1.5] {LEAD}", "build/bad-index"),
        (f"cable strip.1 -> handheld[2 m] {LEAD}", "build/bad-index"),
        (f"cable strip.[6..1] -> handheld[1..6] {LEAD}", "build/range-backwards"),
        (f"cable strip.1 -> strip[1].in {LEAD}", "build/not-several"),
        (f"cable strip.1[2] -> handheld[1] {LEAD}", "build/not-several"),
        ("require handheld powered throughout", "build/which-of-many"),
        ("require handheld[2..9] powered throughout", "build/beyond-count"),
        ("load lamp[0] : steady { power 2 W }", "build/bad-count"),
        ("load lamp[2.5] : steady { power 2 W }", "build/bad-count"),
        ("load lamp[2 A] : steady { power 2 W }", "build/bad-count"),
        ("load lamp[50 %] : steady { power 2 W }", "build/bad-count"),
    ],
)
def test_a_wrong_number_is_one_mistake(line: str, code: str) -> None:
    assert codes_of(f"{WHOLE}{line}\n") == [code]


def test_a_wrong_count_hides_no_mistake_of_the_device() -> None:
    text = BASE + "load lamp[0] : steady { powr 2 W }\n"
    assert codes_of(text) == ["build/bad-count", "build/unknown-parameter"]


def test_a_wrong_end_hides_no_mistake_of_the_cable() -> None:
    text = WHOLE + "cable strip.9 -> handheld[9] { length 1 A; wire 1.5 mm2 }\n"
    assert codes_of(text) == [
        "build/unknown-terminal",
        "build/beyond-count",
        "build/wrong-dimension",
    ]
