"""Each edit changes what it names and nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.building import SITE, station_of

from copperpath.inquiry.edits import edited
from copperpath.plugin_api import (
    Edit,
    NeverTogether,
    SetFact,
    SetFuse,
    SetLength,
    SetValue,
    SetWire,
)
from copperpath.station import Cable, Station

STATION = station_of(
    SITE
    + """storage pack : lfp { cells 4; capacity 20 Ah }
load one : transceiver { receive 0.4 A; transmit 6 A; transmitting 10 % }
load two : transceiver { receive 0.4 A; transmit 4 A; transmitting 10 % }
load three : transceiver { receive 0.4 A; transmit 4 A; transmitting 10 % }
cable pack -> one { length 2 m; wire 1.5 mm2; fuse 10 A at pack }
cable pack -> two { length 2 m; wire 1.5 mm2; fuse 10 A at pack; fuse_poles both }
cable pack -> three { length 2 m; wire 1.5 mm2 }
never together one, two
"""
)


def cable(station: Station, name: str = "pack -> one") -> Cable:
    return next(each for each in station.cables if each.name == name)


@pytest.mark.parametrize(
    "edit",
    [
        SetWire("pack -> one", "4 mm2"),
        SetLength("pack -> one", 1.0),
        SetFuse("pack -> one", "end", 5.0),
        SetFact("pack -> one", "bundled", 3),
    ],
)
def test_an_edit_of_a_cable_leaves_all_else(edit: Edit) -> None:
    changed = edited(STATION, edit)
    assert replace(changed, cables=()) == replace(STATION, cables=())
    assert cable(changed) != cable(STATION)
    assert changed.cables[1:] == STATION.cables[1:]


def test_a_fuse_takes_the_place_of_that_at_its_end_only() -> None:
    changed = cable(edited(STATION, SetFuse("pack -> one", "start", 5.0, 0.1)))
    assert [(fuse.end, fuse.rating_a, fuse.within_m) for fuse in changed.fuses] == [
        ("start", 5.0, 0.1)
    ]
    both = cable(edited(STATION, SetFuse("pack -> one", "end", 5.0)))
    assert {fuse.end: fuse.rating_a for fuse in both.fuses} == {"start": 10.0, "end": 5.0}


def test_a_fuse_in_both_conductors_counts_twice() -> None:
    one = cable(edited(STATION, SetFuse("pack -> one", "start", 5.0)))
    two = cable(edited(STATION, SetFuse("pack -> two", "start", 5.0)), "pack -> two")
    assert two.fuses[0].ohm == pytest.approx(2.0 * one.fuses[0].ohm)


def test_a_value_is_taken_as_it_is() -> None:
    changed = edited(STATION, SetValue("one", "transmit", 3.0))
    assert changed.device("one").values["transmit"] == 3.0
    assert changed.device("two") is STATION.device("two")


def test_what_is_derived_from_a_value_is_worked_out_anew() -> None:
    before = STATION.device("pack").values
    after = edited(STATION, SetValue("pack", "capacity", 2.0 * before["capacity"])).device("pack")
    changed = {name for name, value in after.values.items() if value != before[name]}
    assert changed > {"capacity"}


def test_a_new_group_of_radios_takes_the_place_of_those_it_meets() -> None:
    changed = edited(STATION, NeverTogether(("two", "three")))
    assert changed.never_together == (("two", "three"),)


@pytest.mark.parametrize(
    "edit",
    [
        SetWire("pack -> nobody", "4 mm2"),
        SetFact("pack -> one", "colour", "red"),
        SetValue("one", "colour", 1.0),
    ],
)
def test_what_is_not_there_cannot_be_edited(edit: Edit) -> None:
    with pytest.raises(KeyError):
        edited(STATION, edit)
