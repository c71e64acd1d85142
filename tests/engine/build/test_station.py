"""What a good text becomes: values in SI, parts merged, schedules, cables, site, assumptions."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest
from support.building import CABLE, DEVICES, SITE, SMALL, codes_of, station_of

from copperpath.plugin_api import AmbientRule, Mount, Schedule, Span24
from copperpath.required import ComparisonRequirement, PoweredRequirement
from copperpath.station import CableFacts, ClearSky, Fuse

HOUR = 3600.0
RIG = "load rig : transceiver { receive 0.32 A; transmit 2.1 A; transmitting 15 % }"


def with_rig(entries: str) -> str:
    """The small station with further entries of the rig."""
    return SMALL.replace("transmitting 15 % }", f"transmitting 15 %; {entries} }}")


def test_values_are_in_si_and_defaults_filled_in() -> None:
    pack = station_of(SMALL).device("pack")
    assert pack.values["capacity"] == 12.0 * HOUR
    assert pack.values["cells"] == 4.0
    assert math.isnan(pack.values["cutoff"])
    assert pack.values["cutoff_voltage"] == pytest.approx(10.4)
    assert pack.given == {"capacity"}


def test_a_part_gives_its_entries_and_the_device_wins() -> None:
    text = SMALL.replace(
        RIG,
        "part base : transceiver { receive 0.3 A; transmit 2 A; mass 1 kg; on 06:00 to 12:00 }\n"
        "part sharp : base { transmit 3 A }\n"
        "load rig : sharp { transmitting 15 %; off 22:00 to 05:00; priority 2 }",
    )
    rig = station_of(text).device("rig")
    assert (rig.values["receive"], rig.values["transmit"]) == (0.3, 3.0)
    assert (rig.mass_kg, rig.priority) == (1.0, 2)
    assert rig.values["on"] == Schedule((Span24(22 * HOUR, 5 * HOUR, 0.0),), 1.0)


def test_the_order_of_declarations_does_not_matter() -> None:
    backwards = "".join(reversed([SITE, *DEVICES.splitlines(keepends=True), CABLE]))
    one, other = station_of(SMALL), station_of(backwards)
    assert {d.name: repr(d.values) for d in one.devices} == {
        d.name: repr(d.values) for d in other.devices
    }


def test_shares_by_the_hour_become_a_schedule() -> None:
    text = SMALL.replace("15 %", "20 % from 06:00 to 22:00, otherwise 2 %")
    found = station_of(text).device("rig").values["transmitting"]
    assert found == Schedule((Span24(6 * HOUR, 22 * HOUR, 0.2),), 0.02)


def test_hours_may_have_their_days_and_those_decide_first() -> None:
    found = station_of(
        with_rig(
            "off 06:00 to 12:00, 13:00 to 15:00 from 2026-06-19 to 2026-06-20 and "
            "22:00 to 02:00 on 2026-06-21"
        )
    )
    first, second, third = date(2026, 6, 19), date(2026, 6, 20), date(2026, 6, 21)
    assert found.device("rig").values["on"] == Schedule(
        (
            Span24(13 * HOUR, 15 * HOUR, 0.0, (first, second)),
            Span24(22 * HOUR, 2 * HOUR, 0.0, (third, third)),
            Span24(6 * HOUR, 12 * HOUR, 0.0),
        ),
        1.0,
    )


def test_a_share_may_have_its_hours_its_days_or_both() -> None:
    text = SMALL.replace(
        "15 %",
        "3 % from 06:00 to 22:00, 20 % from 06:00 to 22:00 on 2026-06-20, "
        "5 % from 2026-06-21 to 2026-06-22, otherwise 2 %",
    )
    found = station_of(text).device("rig").values["transmitting"]
    day, last = date(2026, 6, 20), (date(2026, 6, 21), date(2026, 6, 22))
    assert found == Schedule(
        (
            Span24(6 * HOUR, 22 * HOUR, 0.2, (day, day)),
            Span24(0.0, 24 * HOUR, 0.05, last),
            Span24(6 * HOUR, 22 * HOUR, 0.03),
        ),
        0.02,
    )


def test_hours_of_a_day_before_the_run_count_if_they_reach_into_it() -> None:
    assert codes_of(with_rig("on 20:00 to 09:00 on 2026-06-18")) == []
    assert codes_of(with_rig("on 20:00 to 08:00 on 2026-06-18")) == ["build/days-outside"]


def test_hours_of_the_day_of_the_end_count_up_to_the_end() -> None:
    assert codes_of(with_rig("on 07:00 to 09:00 on 2026-06-22")) == []
    assert codes_of(with_rig("on 08:00 to 09:00 on 2026-06-22")) == ["build/days-outside"]


def test_hours_of_a_day_that_only_overlap_those_of_every_day_are_no_mistake() -> None:
    assert codes_of(with_rig("on 22:00 to 06:00, 05:00 to 07:00 on 2026-06-20")) == []
    assert codes_of(with_rig("on 22:00 to 06:00, 01:00 to 06:00 on 2026-06-20")) == [
        "build/hours-hidden"
    ]


def test_needs_a_day_are_not_spread_over_hours_that_change_with_the_date() -> None:
    phone = (
        "load phone : usb_device { needs 5 Wh/day; on 08:00 to 10:00 on 2026-06-20 }\n"
        "converter fiver : step_down { output 5 V; output_limit 3 A; input 9 V .. 30 V }\n"
        "cable pack -> fiver.in { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
        "cable fiver.out -> phone { length 1 m; wire 1.5 mm2 }\n"
    )
    assert codes_of(SMALL + phone) == ["build/values-disagree"]
    assert codes_of(SMALL + phone.replace("needs 5 Wh/day", "power 2 W")) == []


def test_a_panel_may_be_aimed_every_so_often() -> None:
    panel = (
        "source panel : photovoltaic { power 28 W; vmp 17.6 V; voc 21.4 V; isc 1.75 A; "
        "mount aimed every 3 h }\n"
        "cable panel -> pack { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
    )
    mount = station_of(SMALL + panel).device("panel").values["mount"]
    assert mount.every_s == 3 * HOUR


def test_a_window_may_have_the_end_of_the_day() -> None:
    found = station_of(with_rig("on 06:00 to 12:00, 14:00 to 24:00")).device("rig").values["on"]
    assert found.windows[1] == Span24(14 * HOUR, 24 * HOUR, 1.0)


@pytest.mark.parametrize(
    ("written", "rule"),
    [
        ("5 degC", AmbientRule(fixed_k=278.15)),
        ("-5 degC", AmbientRule(fixed_k=268.15)),
        ("air", AmbientRule()),
        ("air + 6 K", AmbientRule(offset_k=6.0)),
        ("air - 2 K", AmbientRule(offset_k=-2.0)),
    ],
)
def test_a_temperature_is_fixed_or_follows_the_air(written: str, rule: AmbientRule) -> None:
    text = SMALL.replace("12 Ah", f"12 Ah; temperature {written}")
    found = station_of(text).device("pack").values["temperature"]
    assert found.offset_k == rule.offset_k
    assert found.fixed_k == pytest.approx(rule.fixed_k)


@pytest.mark.parametrize(
    ("written", "mount"),
    [
        ("flat", Mount(0.0, 180.0)),
        ("60 deg, south", Mount(60.0, 180.0)),
        ("30 deg, north_east", Mount(30.0, 45.0)),
        ("30°, 225 deg", Mount(30.0, 225.0)),
    ],
)
def test_a_panel_lies_flat_or_is_tilted_and_faced(written: str, mount: Mount) -> None:
    text = SMALL + (
        "source sun : photovoltaic { power 28 W; vmp 17.6 V; voc 21.4 V; isc 1.75 A; "
        f"mount {written} }}\n"
        "converter reg : mppt_charger { output_limit 5 A; max_input 30 V }\n"
        "cable sun -> reg.panel { length 5 m; wire 1.5 mm2 }\n"
        "cable reg -> pack { length 1 m; wire 1.5 mm2 }\n"
    )
    assert station_of(text).device("sun").values["mount"] == mount


def test_named_values_and_arithmetic_keep_their_units() -> None:
    text = "let run = 2 * (3.5 m - 50 cm)\n" + SMALL.replace("length 1 m", "length run").replace(
        "12 Ah", "153.6 Wh / 12.8 V"
    )
    station = station_of(text)
    assert station.cables[0].length_m == pytest.approx(6.0)
    assert station.device("pack").values["capacity"] == pytest.approx(12.0 * HOUR)


def test_a_cable_counts_both_conductors_fuse_and_joints() -> None:
    text = SMALL.replace("at pack }", "at pack within 100 mm; joint 2 of genderless }")
    cable = station_of(text).cables[0]
    assert cable.wire_ohm == pytest.approx(2.0 * 0.0133)
    assert cable.joints_ohm == pytest.approx(2 * 2 * 0.0006)
    assert cable.fuses == (Fuse(10.0, "start", 0.1, 0.0077),)
    assert cable.resistance_ohm == pytest.approx(0.0266 + 0.0024 + 0.0077)
    assert cable.mass_kg == pytest.approx(2 * 8960 * 1.5e-6 * 1.6)


@pytest.mark.parametrize("place", ["pack", "pack.line", "start"])
def test_a_fuse_is_placed_by_device_terminal_or_end(place: str) -> None:
    (fuse,) = station_of(SMALL.replace("at pack", f"at {place}")).cables[0].fuses
    assert fuse.end == "start"


def with_cable(entries: str) -> str:
    """The small station with further entries of its cable."""
    return SMALL.replace("at pack }", f"at pack; {entries} }}")


def test_a_cable_may_have_a_fuse_at_each_end() -> None:
    cable = station_of(with_cable("fuse 5 A at rig within 50 mm")).cables[0]
    assert [(fuse.end, fuse.rating_a) for fuse in cable.fuses] == [("start", 10.0), ("end", 5.0)]
    assert cable.resistance_ohm == pytest.approx(0.0266 + 0.0077 + 0.018)


def test_fuses_in_both_poles_count_twice() -> None:
    cable = station_of(with_cable("fuse_poles both")).cables[0]
    assert cable.resistance_ohm == pytest.approx(0.0266 + 2 * 0.0077)


def test_what_is_known_of_a_cable_is_kept() -> None:
    facts = "fuse_kind class_t; fuse_interrupts 1 kA; fuse_voltage 32 V; fuse_poles positive; "
    facts += "insulation 105 degC; bundled 4; sheathed; copper_clad"
    assert station_of(with_cable(facts)).cables[0].facts == CableFacts(
        "class_t", 1000.0, 32.0, "positive", pytest.approx(378.15), 4, True, True
    )


def test_what_is_not_known_of_a_cable_is_not_taken() -> None:
    assert station_of(SMALL).cables[0].facts == CableFacts()


def test_copper_clad_wire_has_more_resistance_and_less_mass() -> None:
    """1.6 times, common practice; 0.1 * 8960 + 0.9 * 2700 = 3326 kg/m³."""
    cable = station_of(with_cable("copper_clad")).cables[0]
    assert cable.wire_ohm == pytest.approx(1.6 * 0.0266)
    assert cable.mass_kg == pytest.approx(2 * 3326 * 1.5e-6 * 1.6, rel=2e-3)


@pytest.mark.parametrize(
    "missing", ["length 1 m; ", "wire 1.5 mm2; ", "length 1 m; wire 1.5 mm2; "]
)
def test_a_cable_without_its_data_loses_next_to_nothing_but_in_its_fuse(missing: str) -> None:
    station = station_of(SMALL.replace(missing, ""))
    cable = station.cables[0]
    assert cable.resistance_ohm - 0.0077 == pytest.approx(1e-4)
    assert cable.missing == tuple(word.split()[0] for word in missing.split("; ") if word)
    assert cable.mass_kg is None
    assert station.without_mass[-1] == cable.name


def test_a_cable_without_its_data_stands_among_the_assumptions() -> None:
    (made,) = [
        each
        for each in station_of(SMALL.replace("length 1 m; ", "")).assumptions
        if each.parameter == "length"
    ]
    assert (made.subject, made.value) == ("cables", "not given for `pack -> rig`; 100 µΩ taken")


def test_a_cable_without_its_data_may_still_have_a_mass() -> None:
    text = SMALL.replace("length 1 m;", "mass 0.1 kg;")
    assert station_of(text).cables[0].mass_kg == 0.1


def test_warm_copper_has_more_resistance() -> None:
    text = SMALL.replace("1.5 mm2", "1.5 mm2; conductor_temperature 70 degC")
    assert station_of(text).cables[0].wire_ohm == pytest.approx(0.0266 * (1 + 0.00393 * 50))


def test_two_cables_between_the_same_ends_have_names_of_their_own() -> None:
    names = [cable.name for cable in station_of(SMALL + CABLE).cables]
    assert names == ["pack -> rig", "pack -> rig (2)"]


def test_unused_ways_of_a_strip_are_fine() -> None:
    text = (
        SITE
        + DEVICES
        + (
            "block strip : strip { ways 4 }\n"
            "cable pack -> strip.in { length 1 m; wire 4 mm2 }\n"
            "cable strip.4 -> rig { length 1 m; wire 1.5 mm2 }\n"
        )
    )
    station_of(text)


def test_the_site_is_read_with_its_clock() -> None:
    site = station_of(SMALL.replace("64.2 N, 27.7 E", "41.29 S, 174.78 W")).site
    assert (site.latitude_deg, site.longitude_deg, site.altitude_m) == (-41.29, -174.78, 140.0)
    assert site.starts.utcoffset() == timedelta(hours=3)
    assert (site.lasts_s, site.air_low_k, site.repeats) == (72 * HOUR, 281.15, False)


def test_later_skies_win_on_their_days() -> None:
    text = SMALL.replace(
        "sky clear",
        "sky 90 % of clear\n    sky 30 % of clear from 2026-06-20 to 2026-07-30\n"
        "    sky clear on 2026-06-21",
    )
    sky = station_of(text).site.sky
    assert isinstance(sky, ClearSky)
    assert sky.otherwise == 0.9
    assert sky.by_date == {
        date(2026, 6, 20): 0.3,
        date(2026, 6, 21): 1.0,
        date(2026, 6, 22): 0.3,
    }


def test_requirements_keep_their_text_and_limits_in_si() -> None:
    text = SMALL + (
        "require rig powered for 48 h\nrequire pack.charge >= 20 %\nrequire mass <= 10 lb\n"
    )
    powered, charge, mass = station_of(text).requirements
    assert isinstance(powered, PoweredRequirement)
    assert powered.duration_s == 48 * HOUR
    assert isinstance(charge, ComparisonRequirement)
    assert (charge.device, charge.limit, charge.unit) == ("pack", 0.2, "%")
    assert isinstance(mass, ComparisonRequirement)
    assert mass.device is None
    assert mass.limit == pytest.approx(4.5359237)
    assert charge.text == "pack.charge >= 20 %"


def test_every_default_is_an_assumption_with_its_basis() -> None:
    station = station_of(SMALL)
    assert all(a.value and a.basis for a in station.assumptions)
    named = {(a.subject, a.parameter): a.value for a in station.assumptions}
    assert named["pack", "thermal_lag"] == "2 h"
    assert named["rig", "works"] == "11.7 V .. 15.9 V"
    assert named["station", "ground_reflects"] == "20 %"
    assert named["cables", "fuse 10 A"] == "7.7 mΩ"
    assert ("pack", "capacity") not in named


def test_what_the_file_gives_is_no_assumption() -> None:
    text = SMALL.replace("12 Ah", "12 Ah; thermal_lag 1 h").replace("1.5 mm2", "14 AWG; solid")
    named = {(a.subject, a.parameter) for a in station_of(text).assumptions}
    assert ("pack", "thermal_lag") not in named
    assert ("cables", "wire") not in named


def test_mistakes_are_told_in_the_order_of_the_text() -> None:
    text = SMALL.replace("72 h", "72").replace("12 Ah", "12 A").replace("1.5 mm2", "1.5")
    assert codes_of(text) == [
        "build/wrong-dimension",
        "build/wrong-dimension",
        "build/not-a-wire-size",
    ]


def test_a_broken_statement_is_not_called_missing() -> None:
    from support.building import CATALOGUE

    from copperpath.build import build
    from copperpath_grammar import parse

    text = SMALL.replace("load rig : transceiver", "load rig transceiver")
    parsed = parse(text)
    assert parsed.file is not None
    assert parsed.diagnostics
    result = build(parsed.file, parsed.source, CATALOGUE, None)
    assert result.station is None
    assert result.diagnostics == ()
