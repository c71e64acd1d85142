"""The low corner against hand arithmetic, and that a what-if changes what it says and no more."""

from __future__ import annotations

import numpy as np
import pytest
from support.runs import LARKFELL, record_of, solved, station_from_file, station_from_text
from support.small_station import small_text

from copperpath.study.corners import low_corner
from copperpath.study.what_ifs import trials

RADIO = (
    "load rig : transceiver { receive 0.4 A; transmit 6 A; transmitting 10 %; works 9 V .. 15 V }\n"
    "cable pack -> rig { length 2 m; wire 1.5 mm2 }\n"
)
ROUND_TRIP_OHM = 2 * 2.0 * 0.0133
"""2 m of 1.5 mm² class 5 copper, both conductors, at 20 degC."""


def corner_text(more: str = "") -> str:
    return small_text(RADIO + more, capacity="20 Ah", pack="reserve 20 %", lasts="2 h")


def test_the_low_corner_is_rest_voltage_at_the_reserve_less_what_six_ampere_lose() -> None:
    """20 mohm in the battery at 25 degC, 0.0532 ohm in the lead."""
    from copperpath_plugins.storage.lfp import REST_CHARGES, REST_VOLTS

    run = solved(station_from_text(corner_text()))
    (figure,) = low_corner(run.problem)
    at_rest = float(np.interp(0.201, REST_CHARGES, REST_VOLTS))
    assert figure.device == "rig"
    assert figure.needs_v == 9.0
    assert figure.voltage_v == pytest.approx(at_rest - 6.0 * (0.020 + ROUND_TRIP_OHM), abs=0.005)


def test_in_the_low_corner_every_radio_is_keyed() -> None:
    shared = RADIO.replace("pack -> rig", "rig.line -> rig2").replace("load rig", "load rig2")
    alone = low_corner(solved(station_from_text(corner_text())).problem)
    both = low_corner(solved(station_from_text(corner_text(shared))).problem)
    by_name = {each.device: each.voltage_v for each in both}
    lost = alone[0].voltage_v - by_name["rig"]
    assert lost == pytest.approx(6.0 * (0.020 + ROUND_TRIP_OHM), abs=0.005)
    assert by_name["rig"] - by_name["rig2"] == pytest.approx(6.0 * ROUND_TRIP_OHM, abs=0.005)


def test_the_low_corner_is_at_or_below_every_voltage_of_a_run_that_keeps_its_reserve() -> None:
    case = record_of(LARKFELL / "bigger_battery.station").base
    corner = {each.device: each.voltage_v for each in case.low_corner}
    assert corner["rig"] <= float(np.nanmin(case.traces["rig.voltage"].values)) + 1e-3


def test_a_what_if_changes_what_it_says_and_leaves_the_station_as_it_was() -> None:
    station = station_from_file(LARKFELL / "left_in_the_cold.station")
    made = {cause: changed for cause, _, _, _, changed in trials(station)}
    warm = made["charging blocked by cold"]
    assert warm.device("pack").values["charge_above"] < 273.15
    assert station.device("pack").values["charge_above"] == 273.15
    assert warm.cables == station.cables
    unchanged = [d.name for d in station.devices if warm.device(d.name) == d]
    assert unchanged == [d.name for d in station.devices if d.name != "pack"]


def test_cables_of_a_tenth_of_the_resistance_have_a_tenth_of_it() -> None:
    station = station_from_file(LARKFELL / "larkfell_spur.station")
    stouter = {cause: changed for cause, _, _, _, changed in trials(station)}[
        "volts lost in the cables"
    ]
    for old, new in zip(station.cables, stouter.cables, strict=True):
        assert new.resistance_ohm == pytest.approx(0.1 * old.resistance_ohm)


def test_what_ifs_are_listed_with_the_most_helpful_first() -> None:
    what_ifs = record_of(LARKFELL / "left_in_the_cold.station").verdict.what_ifs
    gained = [np.inf if each.gained_s is None else each.gained_s for each in what_ifs]
    assert gained == sorted(gained, reverse=True)
