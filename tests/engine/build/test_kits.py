"""Kits of assemblies become plain devices and cables."""

from __future__ import annotations

import pytest
from support.building import SITE, codes_of, station_of

BASE = (
    SITE
    + """storage pack : lfp { capacity 12 Ah }
block strip : strip { ways 6; rating 30 A }
cable pack -> strip.in { length 0.4 m; wire 4 mm2; fuse 15 A at pack }
"""
)
BOX = """assembly box(rating, run = 2 m) {
    let half = run / 2
    block strip : strip { ways 2; rating rating }
    load lamp[2] : steady { power 2 W }
    cable strip.[1..2] -> lamp[1..2] { length half; wire 1.5 mm2; fuse 3 A at strip }
    require lamp[2].voltage >= 10 V
    expose in -> strip.in
}
"""
LEAD = "{ length 1 m; wire 1.5 mm2 }"
TABLE = "kit table : box { rating 5 A }\n"
WHOLE = BASE + BOX + TABLE + f"cable strip.1 -> table.in {LEAD}\n"


def names(text: str) -> list[str]:
    """The devices of a good text."""
    return [device.name for device in station_of(text).devices]


def test_a_kit_stands_before_the_names_of_its_devices() -> None:
    assert names(WHOLE)[2:] == ["table.strip", "table.lamp[1]", "table.lamp[2]"]


def test_several_kits_have_numbers() -> None:
    text = WHOLE.replace("table :", "table[2] :").replace("table.in", "table[1..2].in")
    assert "table[2].lamp[1]" in names(text)


def test_a_cable_ends_at_the_terminal_behind_the_exposed_one() -> None:
    assert station_of(WHOLE).cables[-1].name == "strip.1 -> table.strip.in"


def test_a_kit_with_one_exposed_terminal_may_be_named_alone() -> None:
    alone = station_of(WHOLE.replace("table.in", "table"))
    assert [c.name for c in alone.cables] == [c.name for c in station_of(WHOLE).cables]


@pytest.mark.parametrize(
    ("given", "length"), [("", 1.0), ("; run 3 m", 1.5), ("; run 2 * 2 m", 2.0)]
)
def test_a_value_is_given_or_falls_back(given: str, length: float) -> None:
    station = station_of(WHOLE.replace("rating 5 A }", f"rating 5 A{given} }}"))
    (cable, _) = [c for c in station.cables if c.name.startswith("table.strip")]
    assert cable.length_m == pytest.approx(length)


def test_kits_keep_their_values_apart() -> None:
    text = WHOLE + "kit other : box { rating 7 A }\n" + f"cable strip.2 -> other {LEAD}\n"
    station = station_of(text)
    ratings = [station.device(name).values["rating"] for name in ("table.strip", "other.strip")]
    assert ratings == [5.0, 7.0]


def test_a_kit_may_be_given_a_value_of_the_file() -> None:
    text = "let rating_of_all = 6 A\n" + WHOLE.replace("rating 5 A }", "rating rating_of_all }")
    assert station_of(text).device("table.strip").values["rating"] == 6.0


def test_an_assembly_sees_the_values_and_parts_of_the_file() -> None:
    text = "let watts = 2 W\npart bulb : steady { power watts }\n" + WHOLE.replace(
        "steady { power 2 W }", "bulb { mass watts / (1 W) * 1 kg }"
    )
    assert station_of(text).device("table.lamp[1]").mass_kg == pytest.approx(2.0)


def test_a_count_inside_may_be_a_value_of_the_kit() -> None:
    box = BOX.replace("rating, ", "rating, many, ").replace("[2] :", "[many] :")
    box = box.replace("[1..2]", "[1..many]").replace("lamp[2].voltage", "lamp[many].voltage")
    text = BASE + box + TABLE.replace("5 A", "5 A; many 1") + f"cable strip.1 -> table {LEAD}\n"
    assert names(text)[2:] == ["table.strip", "table.lamp[1]"]


def test_a_requirement_inside_is_one_for_each_kit() -> None:
    text = WHOLE.replace("table :", "table[2] :").replace("table.in", "table[1..2].in")
    assert [each.text for each in station_of(text).requirements] == [
        "table[1].lamp[2].voltage >= 10 V",
        "table[2].lamp[2].voltage >= 10 V",
    ]


def test_dots_reach_inside_from_outside() -> None:
    text = WHOLE + "require table.lamp[1..2] powered throughout\n"
    assert len(station_of(text).requirements) == 3


def test_a_word_of_an_entry_is_no_value_of_the_kit() -> None:
    """`mode ssb` stays a word though a parameter is called `ssb`."""
    text = (
        BASE
        + f"""assembly box(ssb) {{
    load rig : transceiver {{ receive ssb; transmit 2 A; transmitting 10 %; mode ssb }}
    expose in -> rig
}}
kit table : box {{ ssb 0.3 A }}
cable strip.1 -> table {LEAD}
"""
    )
    assert station_of(text).device("table.rig").values["receive"] == 0.3


NESTED = (
    BASE
    + BOX
    + f"""assembly tent(fuse_size) {{
    block strip : strip {{ ways 2; rating fuse_size }}
    kit desk[2] : box {{ rating fuse_size / 2 }}
    cable strip.[1..2] -> desk[1..2] {LEAD}
    require desk[1..2].lamp[1].voltage >= 11 V
    expose feed -> strip.in
    expose spare -> desk[2].in
}}
kit camp : tent {{ fuse_size 8 A }}
cable strip.1 -> camp.feed {LEAD}
"""
)


def test_kits_may_stand_in_kits() -> None:
    station = station_of(NESTED)
    assert station.device("camp.desk[2].lamp[1]").name == "camp.desk[2].lamp[1]"
    assert station.device("camp.desk[2].strip").values["rating"] == 4.0


def test_an_exposed_terminal_may_lead_through_two_kits() -> None:
    station = station_of(NESTED + f"cable strip.2 -> camp.spare {LEAD}\n")
    assert str(station.cables[-1].end) == "camp.desk[2].strip.in"


def test_dots_reach_through_two_kits() -> None:
    text = NESTED + "require camp.desk[1..2].lamp[1..2] powered throughout\n"
    assert len(station_of(text).requirements) == 8


def test_an_assembly_that_no_kit_is_made_of_is_not_in_the_station() -> None:
    text = BASE + BOX + f"load lamp : steady {{ power 2 W }}\ncable strip.1 -> lamp {LEAD}\n"
    station = station_of(text)
    assert [device.name for device in station.devices] == ["pack", "strip", "lamp"]
    assert len(station.cables) == 2
    assert station.requirements == ()


def test_an_assembly_that_no_kit_is_made_of_is_checked() -> None:
    spoilt = BOX.replace("steady", "stedy").replace("length half", "length half * 1 A")
    assert codes_of(WHOLE.replace(TABLE, "").replace("table.in", "strip.2") + spoilt) != []
    alone = BASE + spoilt + f"load lamp : steady {{ power 2 W }}\ncable strip.1 -> lamp {LEAD}\n"
    assert codes_of(alone) == ["build/unknown-model", "build/wrong-dimension"]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        (f"cable strip.2 -> table.lamp[1] {LEAD}", "build/not-exposed"),
        (f"cable strip.2 -> table.strip.1 {LEAD}", "build/not-exposed"),
        (f"cable strip.2 -> table.out {LEAD}", "build/no-such-exposed"),
        (f"cable strip.2 -> table.in.1 {LEAD}", "build/not-an-end"),
        (f"cable strip.2 -> table[1] {LEAD}", "build/not-several"),
        ("require table powered throughout", "build/kit-is-no-device"),
        ("require table.lmp[1] powered throughout", "build/unknown-inside"),
        ("require table.lamp powered throughout", "build/which-of-many"),
        ("kit other : bx { rating 5 A }", "build/unknown-assembly"),
        ("load table : steady { power 2 W }", "build/name-taken"),
        ("assembly box { }", "build/name-taken"),
        ("let run = 3 m", "build/hides-value"),
    ],
)
def test_what_a_kit_has_not_got_is_a_mistake(line: str, code: str) -> None:
    assert code in codes_of(f"{WHOLE}{line}\n")


@pytest.mark.parametrize(
    ("line", "code"),
    [
        (f"cable pack -> lamp[1] {LEAD}", "build/unknown-inside"),
        ("require pack.charge >= 20 %", "build/unknown-inside"),
        ("require mass <= 3 kg", "build/whole-station-only"),
        ("require holds", "build/whole-station-only"),
        ("kit inner : box { rating 5 A }", "build/assembly-cycle"),
    ],
)
def test_an_assembly_stands_for_itself(line: str, code: str) -> None:
    text = WHOLE.replace("    expose in", f"    {line}\n    expose in")
    assert codes_of(text) == [code]


def test_an_unread_line_of_an_assembly_makes_nothing_unknown() -> None:
    from copperpath.pipeline import load_text

    text = WHOLE.replace(
        "load lamp[2] : steady { power 2 W }", "load lamp[2] : steady { power 2,5 W }"
    )
    codes = [each.code for each in load_text(text).diagnostics]
    assert codes == ["syntax/decimal-comma"]


COUNTED = """assembly rack(many, watts = 2 W) {
    let half = watts / 2
    block strip : strip { ways many; rating 5 A }
    load lamp[many] : steady { power half }
    cable strip.[1..many] -> lamp[1..many] { length lead; wire 1.5 mm2 }
    require lamp[1..many] powered throughout
    never together lamp[1..many]
    expose in -> strip.in
}
let lead = 1 m
"""
LAMP = f"load lamp : steady {{ power 2 W }}\ncable strip.1 -> lamp {LEAD}\n"


def test_an_assembly_that_no_kit_is_made_of_may_want_its_count() -> None:
    assert names(BASE + COUNTED + LAMP) == ["pack", "strip", "lamp"]


def test_a_mistake_in_such_an_assembly_is_told() -> None:
    assert codes_of(BASE + COUNTED.replace(": steady", ": stedy") + LAMP) == ["build/unknown-model"]


def test_such_an_assembly_hides_no_lamp_without_a_cable() -> None:
    text = BASE + COUNTED + "load lamp : steady { power 2 W }\n"
    assert codes_of(text) == ["build/not-connected"]


def test_the_last_kit_of_an_assembly_with_a_count_may_be_left_out_in_a_case() -> None:
    kit = f"kit rack : rack {{ many 2 }}\ncable strip.2 -> rack {LEAD}\n"
    counted = COUNTED.replace("    never together lamp[1..many]\n", "")
    station = station_of(BASE + counted + LAMP + kit + 'case "none" { without rack }\n')
    assert [d.name for d in station.cases[0].station.devices] == ["pack", "strip", "lamp"]
