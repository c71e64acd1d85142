"""Operating points of a station, with the volts of every terminal and the amps of every cable.

Where no voltage carries all loads, those that are given up first are switched off, as few as it
takes; the corner names them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from copperpath.inquiry.alike import Point, SideBySide, side_by_side
from copperpath.plugin_api import FloatArray
from copperpath.plugin_api.inquiry import Corner
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.problem import Problem

NOTHING = Corner(False, {}, {}, {})

MOST_ENTRIES = 4_000_000
"""Entries of all matrices that are solved side by side: 32 MB."""

PREFIXES = 16
"""Numbers of loads switched off that are tried side by side."""


def nothing_offered(problem: Problem) -> FloatArray:
    """Offer tables (seeker, 2 * OFFER_POINTS) of panels in the dark."""
    tables = np.zeros((max(len(problem.network.seekers), 1), 2 * OFFER_POINTS))
    tables[:, :OFFER_POINTS] = np.arange(OFFER_POINTS)
    return tables


def solve_corners(problem: Problem, points: Sequence[Point], tables: FloatArray) -> list[Corner]:
    """The operating points of given circuits, states and drives."""
    found: list[Corner] = []
    for some in _portions(points):
        built = side_by_side(problem.main, some, tables)
        volts, solved = built.operating_points()
        read = _read(problem, built, some, volts)
        for point, corner, good in zip(some, read, solved, strict=True):
            found.append(corner if good else with_loads_off(problem, point, tables))
    return found


def _portions(points: Sequence[Point]) -> list[Sequence[Point]]:
    if not points:
        return []
    size = max(MOST_ENTRIES // max(len(points[0].circuit.merged.nodes) ** 2, 1), 1)
    return [points[first : first + size] for first in range(0, len(points), size)]


def with_loads_off(problem: Problem, point: Point, tables: FloatArray) -> Corner:
    """The point with as few loads off as it takes, those given up first going first; NOTHING if
    there is none even without any."""
    loads = sorted(
        (
            place
            for place, data in enumerate(problem.main)
            if data.slot.device.kind == "load" and data.slot.device.model.demand
        ),
        key=lambda place: -problem.main[place].slot.device.rank,
    )
    low, high = 0, len(loads)  # so many are too few; so many have not been tried or are enough
    known: Corner | None = None
    while high - low > 1 or known is None:
        if low == high:
            return NOTHING
        tried = sorted({low + 1 + k * (high - low - 1) // (PREFIXES - 1) for k in range(PREFIXES)})
        at = [replace(point, opened=frozenset(loads[:count])) for count in tried]
        corners = _plain(problem, at, tables)
        good = next((k for k, corner in enumerate(corners) if corner is not None), None)
        if good is None:
            if known is None:
                return NOTHING
            break
        known = corners[good]
        low, high = (tried[good - 1] if good else low), tried[good]
    assert known is not None
    return _put_back(problem, point, tables, loads[:high], known)


def _put_back(
    problem: Problem, point: Point, tables: FloatArray, opened: list[int], known: Corner
) -> Corner:
    """Loads given up early that can stay on once a later one is off are put back, one by one."""
    early = opened[:-1]
    alone = [
        replace(point, opened=frozenset(each for each in opened if each != one)) for one in early
    ]
    possible = [
        one
        for one, corner in zip(early, _plain(problem, alone, tables), strict=True)
        if corner is not None
    ]
    off = set(opened)
    for one in possible:
        (corner,) = _plain(problem, [replace(point, opened=frozenset(off - {one}))], tables)
        if corner is not None:
            off.discard(one)
            known = corner
    return known


def _plain(problem: Problem, points: Sequence[Point], tables: FloatArray) -> list[Corner | None]:
    """The points as they are, None where there is none."""
    found: list[Corner | None] = []
    for some in _portions(points):
        built = side_by_side(problem.main, some, tables)
        volts, solved = built.operating_points()
        read = _read(problem, built, some, volts)
        found += [corner if good else None for corner, good in zip(read, solved, strict=True)]
    return found


def _read(
    problem: Problem, built: SideBySide, points: Sequence[Point], solved: FloatArray
) -> list[Corner]:
    into: list[dict[str, float]] = [{} for _ in points]
    for group in built.groups:
        volts = [np.where(group.opened, 0.0, solved[:, row]) for row in group.nodes]
        currents = built.currents(group, volts)
        for name, current in zip(group.shape.v_fields, currents, strict=True):
            values = np.where(group.opened, 0.0, np.broadcast_to(current, group.opened.shape))
            for member, slot in enumerate(group.slots):
                terminal = f"{problem.main[slot].slot.device.name}.{name.rstrip('_')}"
                for found, row in zip(into, values, strict=True):
                    found[terminal] = float(row[member])
    corners = []
    for place, point in enumerate(points):
        circuit = point.circuit
        everywhere = circuit.spread_all(solved[place])
        volts_at = dict(zip(circuit.nodes, everywhere.tolist(), strict=True))
        merged = circuit.merged
        across = solved[place][merged.across_first] - solved[place][merged.across_second]
        flows = merged.across_share * across
        amps = {
            branch.owner: float(flow) / branch.ohm
            for branch, flow in zip(circuit.branches, flows, strict=True)
            if branch.is_cable
        }
        opened = tuple(
            data.slot.device.name for slot, data in enumerate(problem.main) if slot in point.opened
        )
        corners.append(Corner(True, volts_at, amps, into[place], opened))
    return corners


def worst_of(corners: Iterable[Corner]) -> Corner:
    """The lowest volts and the largest amps of several, as the ways of keying are."""
    several = [corner for corner in corners if corner.found]
    if not several:
        return NOTHING
    first = several[0]
    if len(several) == 1:
        return first
    volts = {name: min(each.volts[name] for each in several) for name in first.volts}
    amps = {n: max((each.amps[n] for each in several), key=abs) for n in first.amps}
    into = {n: max((each.into[n] for each in several), key=abs) for n in first.into}
    opened = tuple(dict.fromkeys(name for each in several for name in each.opened))
    return Corner(True, volts, amps, into, opened)
