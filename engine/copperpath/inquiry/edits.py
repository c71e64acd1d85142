"""A station with an edit made."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from copperpath.build.contacts import fuse_ohm
from copperpath.plugin_api.edits import (
    Edit,
    NeverTogether,
    SetFact,
    SetFuse,
    SetLength,
    SetValue,
    SetWire,
)
from copperpath.station import Cable, CableFacts, Fuse, Station
from copperpath.study.what_ifs import changed_device
from copperpath.wiring.standard_sizes import relaid, resized

CABLE_EDITS = (SetWire, SetLength, SetFuse, SetFact)
"""Edits after which a station has the same shape, in other numbers."""

FACT_NAMES = tuple(field.name for field in fields(CableFacts))


def edited(station: Station, edit: Edit) -> Station:
    """The station with one edit made.

    Raises
    ------
    KeyError
        If there is no such cable, device, parameter or fact.
    """
    if isinstance(edit, SetValue):
        device = station.device(edit.device)
        if edit.parameter not in device.values:
            raise KeyError(edit.parameter)
        # A value as such; a string would be read as a factor.
        values = {**device.values, edit.parameter: edit.value}
        new = changed_device(replace(device, values=values), {})
        return replace(
            station, devices=tuple(new if each is device else each for each in station.devices)
        )
    if isinstance(edit, NeverTogether):
        kept = tuple(group for group in station.never_together if not set(group) & set(edit.radios))
        return replace(station, never_together=(*kept, edit.radios))
    if not any(cable.name == edit.cable for cable in station.cables):
        raise KeyError(edit.cable)
    cables = tuple(
        _cable(cable, edit) if cable.name == edit.cable else cable for cable in station.cables
    )
    return replace(station, cables=cables)


def _cable(cable: Cable, edit: SetWire | SetLength | SetFuse | SetFact) -> Cable:
    if isinstance(edit, SetWire):
        return resized(cable, edit.size)
    if isinstance(edit, SetLength):
        return relaid(cable, edit.length_m)
    if isinstance(edit, SetFact):
        if edit.fact not in FACT_NAMES:
            raise KeyError(edit.fact)
        facts: dict[str, Any] = {name: getattr(cable.facts, name) for name in FACT_NAMES}
        return replace(cable, facts=CableFacts(**{**facts, edit.fact: edit.value}))
    poles = 2 if cable.facts.fuse_poles == "both" else 1
    ohm = poles * fuse_ohm(edit.rating_a)
    fuse = Fuse(edit.rating_a, edit.end, edit.within_m, ohm)
    others = tuple(each for each in cable.fuses if each.end != edit.end)
    return replace(cable, fuses=(*others, fuse))
