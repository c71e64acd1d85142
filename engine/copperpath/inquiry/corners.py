"""The corners that rules ask for: without sun, several stations at once; full and in the sun; low
and charging."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from copperpath.inquiry.alike import Point
from copperpath.inquiry.charging import charging_states
from copperpath.inquiry.corner import NOTHING, nothing_offered, solve_corners, worst_of
from copperpath.inquiry.panel_side import panel_amps
from copperpath.plugin_api import FloatArray
from copperpath.plugin_api.inquiry import Corner
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.twin_offers import tables_at
from copperpath.study.corners import (
    at_its_best,
    high_drives,
    high_states,
    keyed_together,
    low_drives,
    low_states,
)


class HasProblem(Protocol):
    """A station with its problem, None if it cannot be solved."""

    @property
    def problem(self) -> Problem | None: ...


def low_corners(stations: Sequence[HasProblem], name: str) -> list[Corner]:
    """The corner without sun of stations that differ in cables alone: `low` with everything keyed
    that may be, `sending` with each radio at the mean of its mode, `listening` with none keyed."""
    first = stations[0].problem
    if first is None:
        return [NOTHING for _ in stations]
    ways = [frozenset[str]()] if name == "listening" else keyed_together(first)
    rows = []
    for keyed in ways:
        drives = [_low_drives(first, data, keyed, name == "sending") for data in first.main]
        states = [low_states(data, row) for data, row in zip(first.main, drives, strict=True)]
        rows.append((states, drives))
    points = [
        Point(each.problem.network.main, states, drives)
        for each in stations
        if each.problem is not None
        for states, drives in rows
    ]
    found = solve_corners(first, points, nothing_offered(first))
    count = len(ways)
    return [worst_of(found[k * count : (k + 1) * count]) for k in range(len(stations))]


def _low_drives(problem: Problem, data: SlotData, keyed: frozenset[str], mean: bool) -> list[float]:
    device = data.slot.device
    # Where nothing stores, what gives power gives it, or there would be none at all.
    bare = not any(each.kind == "storage" for each in problem.station.devices)
    if bare and device.kind == "source":
        return high_drives(problem, data)
    row = low_drives(data, keyed)
    keying = device.model.keying
    if mean and keying is not None and device.name in keyed:
        row[data.level_at] = float(device.values[keying.mode])
    return row


def best_offers(problem: Problem) -> FloatArray:
    """What each seeking terminal is offered with panels at their best."""
    return tables_at(problem, tuple(at_its_best(problem, slots) for slots in problem.zones))


def high_corner(problem: Problem | None, offers: FloatArray | None) -> Corner:
    """No radio keyed, no load wanted, stores full, full sun on cold panels."""
    if problem is None or offers is None:
        return NOTHING
    drives = [high_drives(problem, data) for data in problem.main]
    states = [high_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
    (corner,) = solve_corners(problem, [Point(problem.network.main, states, drives)], offers)
    amps = {**corner.amps, **panel_amps(problem, offers)}
    return Corner(corner.found, corner.volts, amps, corner.into, corner.opened)


def charging_corner(problem: Problem | None, offers: FloatArray | None) -> Corner:
    """Every load off, stores low and warm, everything that gives at its most."""
    if problem is None or offers is None:
        return NOTHING
    drives = [high_drives(problem, data) for data in problem.main]
    states = [charging_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
    (corner,) = solve_corners(problem, [Point(problem.network.main, states, drives)], offers)
    return corner
