"""What a case makes of a station, and that the station itself stays as it is."""

from __future__ import annotations

import pytest
from support.runs import station_from_text
from support.small_station import LAMP, LAMP_LEAD, small_text

from copperpath.pipeline import load_text
from copperpath.plugin_api import Schedule, Span24
from copperpath.station import ClearSky, Station

RADIOS = """load rig : transceiver { receive 0.4 A; transmit 6 A; transmitting 10 % }
load relay : transceiver { receive 0.4 A; transmit 4 A; transmitting 10 % }
cable pack -> rig { length 2 m; wire 1.5 mm2; fuse 10 A at pack }
cable pack -> relay { length 2 m; wire 1.5 mm2; fuse 10 A at pack }
"""
DESKS = """block strip : strip { ways 6; rating 20 A }
assembly desk(watts) {
    block bar : strip { ways 4; rating 10 A }
    load lamp[2] : steady { power watts }
    cable bar.[1..2] -> lamp[1..2] { length 1 m; wire 1.5 mm2; fuse 3 A at bar }
    expose in -> bar.in
}
kit table[2] : desk { watts 5 W }
cable pack -> strip.in { length 1 m; wire 2.5 mm2; fuse 15 A at pack }
cable strip.[1..2] -> table[1..2].in { length 1 m; wire 1.5 mm2; fuse 10 A at strip }
"""


def cases_of(text: str) -> dict[str, Station]:
    return {case.title: case.station for case in station_from_text(text).cases}


def case_of(lines: str, rest: str = LAMP + LAMP_LEAD, **small: str) -> Station:
    return cases_of(small_text(rest + f'case "other" {{\n{lines}\n}}\n', **small))["other"]


def names_of(station: Station) -> list[str]:
    return [device.name for device in station.devices]


def test_a_station_with_cases_is_the_same_as_without() -> None:
    text = small_text(LAMP + LAMP_LEAD)
    alone = station_from_text(text)
    beside = station_from_text(
        text + 'case "dark" { sky 5 % of clear; change lamp { current 1 A } }'
    )
    assert [d.values for d in alone.devices] == [d.values for d in beside.devices]
    assert alone.site == beside.site


def test_a_case_has_a_sky_of_its_own_as_a_whole() -> None:
    more = "sky 30 % of clear on 2026-06-19"
    assert case_of("sky 10 % of clear", more=more).site.sky == ClearSky(0.1, {})


def test_a_case_keeps_the_settings_that_it_does_not_name() -> None:
    found = case_of("lasts 48 h").site
    assert found.lasts_s == 48 * 3600.0
    assert (found.latitude_deg, found.sky) == (64.2, ClearSky(1.0, {}))


def test_a_named_value_of_a_case_takes_the_place_of_the_files() -> None:
    rest = "let lead = 1 m\n" + LAMP + LAMP_LEAD.replace("length 1 m", "length lead")
    assert case_of("let lead = 3 m", rest).cables[0].length_m == 3.0


def test_a_part_of_a_case_takes_the_place_of_the_files() -> None:
    rest = "part torch : steady { current 0.5 A }\nload lamp : torch { }\n" + LAMP_LEAD
    found = case_of("part torch : steady { current 0.9 A }", rest)
    assert found.device("lamp").values["current"] == 0.9


def test_a_change_counts_over_what_a_part_says_and_leaves_the_rest() -> None:
    rest = "part torch : steady { current 0.5 A; works 9 V .. 15 V }\nload lamp : torch { }\n"
    values = case_of("change lamp { current 0.9 A }", rest + LAMP_LEAD).device("lamp").values
    assert (values["current"], values["works_low"]) == (0.9, 9.0)


def test_hours_off_take_the_place_of_hours_on() -> None:
    rest = LAMP.replace("works", "on 08:00 to 10:00; works") + LAMP_LEAD
    on = case_of("change lamp { off 22:00 to 23:00 }", rest).device("lamp").values["on"]
    assert on == Schedule((Span24(22 * 3600.0, 23 * 3600.0, 0.0),), 1.0)


def test_a_cable_is_changed_whichever_way_round_it_is_named() -> None:
    found = case_of("change cable lamp -> pack { wire 4 mm2 }").cables[0]
    assert (found.wire, found.length_m) == ("4 mm2", 1.0)


def test_a_device_that_is_left_out_takes_its_cables_along() -> None:
    found = case_of("without lamp", LAMP + LAMP_LEAD + RADIOS)
    assert names_of(found) == ["pack", "rig", "relay"]
    assert [cable.name for cable in found.cables] == ["pack -> rig", "pack -> relay"]


def test_what_hung_on_a_device_that_is_left_out_is_told_and_not_refused() -> None:
    rest = (
        "block strip : strip { ways 2; rating 9 A }\n" + LAMP + "cable pack -> strip.in "
        "{ length 1 m; wire 1.5 mm2; fuse 9 A at pack }\n"
        "cable strip.1 -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at strip }\n"
    )
    assert case_of("without strip", rest).unconnected == ("lamp", "pack")
    assert case_of("without cable strip.1 -> lamp", rest).unconnected == ("lamp",)


def test_a_case_adds_bonds_and_data_leads_of_what_it_adds_as_well() -> None:
    lines = "load guest : transceiver { receive 0.5 A; transmit 4 A; transmitting 10 % }\n"
    lines += "cable pack -> guest { length 1 m; wire 2.5 mm2; fuse 10 A at pack }\n"
    found = case_of(lines + "bond guest to vehicle\ndata guest -> rig { kind audio }", RADIOS)
    assert [(bond.start, bond.end) for bond in found.bonds] == [("guest", "vehicle")]
    assert [(lead.start, lead.end) for lead in found.data_leads] == [("guest", "rig")]


def test_a_radio_that_is_left_out_leaves_its_group_its_bonds_and_its_leads() -> None:
    rest = RADIOS + "never together rig, relay\nbond rig to chassis\ndata rig -> relay\n"
    found = case_of("without relay", rest)
    assert found.never_together == ()
    assert found.data_leads == ()
    assert [bond.start for bond in found.bonds] == ["rig"]
    assert case_of("without rig", rest).bonds == ()


def test_a_group_of_three_is_one_of_two_without_the_third() -> None:
    third = RADIOS.replace("relay", "link").splitlines()[1::2]
    rest = RADIOS + "\n".join(third) + "\nnever together rig, relay, link\n"
    assert case_of("without relay", rest).never_together == (("rig", "link"),)


def test_a_case_adds_devices_with_their_cables() -> None:
    found = case_of(LAMP.replace("lamp", "torch") + LAMP_LEAD.replace("lamp", "torch"))
    assert names_of(found) == ["pack", "lamp", "torch"]


def test_a_value_of_one_kit_is_changed_in_that_kit_alone() -> None:
    found = case_of("change table[2] { watts 9 W }", DESKS)
    powers = {d.name: d.values["power"] for d in found.devices if d.kind == "load"}
    assert powers == {
        "table[1].lamp[1]": 5.0,
        "table[1].lamp[2]": 5.0,
        "table[2].lamp[1]": 9.0,
        "table[2].lamp[2]": 9.0,
    }


def test_some_of_many_are_changed_by_their_numbers() -> None:
    rest = "load lamp[3] : steady { power 5 W }\n"
    rest += LAMP_LEAD.replace("pack -> lamp", "pack -> lamp[1..3]")
    found = case_of("change lamp[2..3] { power 7 W }", rest)
    assert [found.device(f"lamp[{k}]").values["power"] for k in (1, 2, 3)] == [5.0, 7.0, 7.0]


def test_a_device_inside_a_kit_is_changed_by_its_path() -> None:
    found = case_of("change table[1].lamp[2] { power 2 W }", DESKS)
    assert found.device("table[1].lamp[2]").values["power"] == 2.0
    assert found.device("table[2].lamp[2]").values["power"] == 5.0


def test_the_cables_of_a_range_are_changed_one_by_one() -> None:
    found = case_of("change cable strip.[1..2] -> table[1..2].in { wire 6 mm2 }", DESKS)
    stout = [cable.name for cable in found.cables if cable.wire == "6 mm2"]
    assert stout == ["strip.1 -> table[1].bar.in", "strip.2 -> table[2].bar.in"]


def test_a_kit_that_is_left_out_takes_all_that_is_in_it_along() -> None:
    found = case_of("without table[2]", DESKS)
    assert not any(name.startswith("table[2]") for name in names_of(found))
    assert found.unconnected == ()


def test_a_case_adds_a_kit() -> None:
    lines = (
        "kit spare : desk { watts 1 W }\n"
        "cable strip.3 -> spare.in { length 1 m; wire 1.5 mm2; fuse 9 A at strip }"
    )
    assert case_of(lines, DESKS).device("spare.lamp[1]").values["power"] == 1.0


@pytest.mark.parametrize(
    ("ending", "base", "dark", "wet"),
    [
        ("", 1, 0, 0),
        (" in every case", 1, 1, 1),
        (' in case "dark"', 0, 1, 0),
        (' in case "dark", "wet"', 0, 1, 1),
    ],
)
def test_a_requirement_speaks_of_the_cases_that_it_names(
    ending: str, base: int, dark: int, wet: int
) -> None:
    lines = f"require lamp powered throughout{ending}\n"
    lines += 'case "dark" { sky 5 % of clear }\ncase "wet" { air 2 degC }\n'
    station = station_from_text(small_text(LAMP + LAMP_LEAD + lines))
    counts = [len(case.station.requirements) for case in station.cases]
    assert [len(station.requirements), *counts] == [base, dark, wet]


def test_a_requirement_in_every_case_is_not_asked_of_a_case_without_its_load() -> None:
    lines = "require lamp powered throughout in every case\n"
    rest = LAMP + LAMP_LEAD + RADIOS + lines + 'case "no lamp" { without lamp }\n'
    assert cases_of(small_text(rest))["no lamp"].requirements == ()


def test_what_a_case_changes_is_told_in_one_line_without_remarks() -> None:
    lines = 'change lamp {\n  current 1 A   # bright\n  note "a # b"\n}\nlasts   48 h'
    text = small_text(LAMP + LAMP_LEAD + f'case "other" {{\n{lines}\n}}\n')
    (case,) = station_from_text(text).cases
    assert case.changes == ('change lamp { current 1 A; note "a # b" }', "lasts 48 h")


def test_cases_of_a_very_large_station_are_bounded_by_what_is_to_be_built() -> None:
    many = "load lamp[400] : steady { power 0.1 W }\n"
    many += LAMP_LEAD.replace("pack -> lamp", "pack -> lamp[1..400]")
    cases = "".join(f'case "{k}" {{ change lamp[1] {{ power {k} W }} }}\n' for k in range(1, 31))
    loaded = load_text(small_text(many + cases))
    (problem,) = loaded.diagnostics
    assert problem.code == "build/too-many-cases"
    assert problem.span.text == '"25"'  # 801 things in each: 24 cases are below 20,000
