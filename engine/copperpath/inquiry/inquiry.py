"""What a rule may ask, worked out when it is asked for and kept."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from copperpath.inquiry.charging import charging_states
from copperpath.inquiry.corner import NOTHING, nothing_offered, solve_corner, worst_of
from copperpath.inquiry.corner_site import corner_site
from copperpath.inquiry.edits import edited
from copperpath.inquiry.open_volts import highest_volts
from copperpath.inquiry.panel_side import panel_amps
from copperpath.inquiry.store_source import as_source
from copperpath.network.checks import check_network, solvable
from copperpath.network.nodes import make_network
from copperpath.plugin_api.edits import Edit
from copperpath.plugin_api.inquiry import Ampacity, CableView, Corner, Feed, FuseBreaks, Protection
from copperpath.site.air import coldest_air, warmest_air
from copperpath.solver.problem import Problem, SlotData, make_problem
from copperpath.solver.twin_offers import tables_at
from copperpath.station import Bond, Cable, DataLead, Device, Station
from copperpath.study.corners import (
    at_its_best,
    high_drives,
    high_states,
    keyed_together,
    low_drives,
    low_states,
)
from copperpath.wiring.ampacity import ampacity_of
from copperpath.wiring.feed import feed_of
from copperpath.wiring.lines import cable_named, joined_to, supply_terminal
from copperpath.wiring.protection import protection_of
from copperpath.wiring.short_circuit import short_circuit_at
from copperpath.wiring.standard_fuses import KINDS, ratings_of
from copperpath.wiring.standard_sizes import larger_sizes


class StationInquiry:
    """A station and what can be worked out of it; implements `copperpath.plugin_api.Inquiry`."""

    def __init__(self, station: Station) -> None:
        self.station = station

    @property
    def devices(self) -> tuple[Device, ...]:
        return self.station.devices

    @property
    def cables(self) -> tuple[Cable, ...]:
        return self.station.cables

    @property
    def bonds(self) -> tuple[Bond, ...]:
        return self.station.bonds

    @property
    def data_leads(self) -> tuple[DataLead, ...]:
        return self.station.data_leads

    @property
    def never_together(self) -> tuple[tuple[str, ...], ...]:
        return self.station.never_together

    @property
    def air_low_k(self) -> float:
        return coldest_air(self.station.site)

    @property
    def air_high_k(self) -> float:
        return warmest_air(self.station.site)

    @property
    def mass_kg(self) -> float:
        return self.station.known_mass_kg

    @property
    def lasts_s(self) -> float:
        return self.station.site.lasts_s

    # ---- corners ----------------------------------------------------------------------------

    @cached_property
    def problem(self) -> Problem | None:
        """The problem of the corners; None if the wiring cannot be solved."""
        if not solvable(check_network(self.station)):
            return None
        site = corner_site(self.station, self.air_low_k, self.air_high_k)
        return make_problem(self.station, make_network(self.station), site)

    @cached_property
    def low(self) -> Corner:
        problem = self.problem
        if problem is None:
            return NOTHING
        return worst_of(self._low(problem, keyed, None) for keyed in keyed_together(problem))

    @cached_property
    def sending(self) -> Corner:
        problem = self.problem
        if problem is None:
            return NOTHING
        ways = keyed_together(problem)
        return worst_of(self._low(problem, keyed, "mode_mean") for keyed in ways)

    @cached_property
    def listening(self) -> Corner:
        problem = self.problem
        return NOTHING if problem is None else self._low(problem, frozenset(), None)

    @cached_property
    def high(self) -> Corner:
        problem = self.problem
        if problem is None:
            return NOTHING
        drives = [high_drives(problem, data) for data in problem.main]
        states = [high_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
        tables = tables_at(problem, tuple(at_its_best(problem, slots) for slots in problem.zones))
        corner = solve_corner(problem, states, drives, tables)
        amps = {**corner.amps, **panel_amps(problem, tables)}
        return Corner(corner.found, corner.volts, amps, corner.into, corner.opened)

    @cached_property
    def charging(self) -> Corner:
        problem = self.problem
        if problem is None:
            return NOTHING
        drives = [high_drives(problem, data) for data in problem.main]
        states = [
            charging_states(data, row) for data, row in zip(problem.main, drives, strict=True)
        ]
        tables = tables_at(problem, tuple(at_its_best(problem, slots) for slots in problem.zones))
        return solve_corner(problem, states, drives, tables)

    def _low(self, problem: Problem, keyed: frozenset[str], level: str | None) -> Corner:
        drives = [self._low_drives(problem, data, keyed, level) for data in problem.main]
        states = [low_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
        return solve_corner(problem, states, drives, nothing_offered(problem))

    def _low_drives(
        self, problem: Problem, data: SlotData, keyed: frozenset[str], level: str | None
    ) -> list[float]:
        device = data.slot.device
        # Where nothing stores, what gives power gives it, or there would be none at all.
        bare = not any(each.kind == "storage" for each in self.station.devices)
        if bare and device.kind == "source":
            return high_drives(problem, data)
        row = low_drives(data, keyed)
        keying = device.model.keying
        if level is not None and keying is not None and device.name in keyed:
            row[data.level_at] = float(device.values[keying.mode])
        return row

    # ---- the wiring by its shape ---------------------------------------------------------------

    def device(self, name: str) -> Device:
        return self.station.device(name)

    def cable(self, name: str) -> Cable:
        return cable_named(self.station, name)

    def cables_at(self, device: str, terminal: str = "") -> Sequence[Cable]:
        return [
            cable
            for cable in self.station.cables
            for end in (cable.start, cable.end)
            if end.device == device and terminal in ("", end.terminal)
        ]

    def supply_terminal(self, device: str) -> str:
        return supply_terminal(self.station.device(device))

    def feed(self, terminal: str) -> Feed | None:
        return feed_of(self.station, terminal)

    def joined(self, terminal: str) -> frozenset[str]:
        return joined_to(self.station, terminal)

    def ampacity(self, cable: CableView) -> Ampacity | None:
        return ampacity_of(cable, self.air_high_k)

    def larger_wires(self, cable: CableView) -> tuple[str, ...]:
        return larger_sizes(cable)

    def fuse_ratings(self, kind: str | None) -> tuple[float, ...]:
        return ratings_of(kind)

    def protection(self, cable: CableView) -> tuple[Protection, ...]:
        return protection_of(self.station, cable)

    def short_circuit(self, terminal: str) -> float:
        return short_circuit_at(self.station, terminal, self.stores)

    @cached_property
    def stores(self) -> dict[str, tuple[float, float]]:
        """Open voltage [V] and resistance [ohm] of each store when full and warm, by terminal."""
        problem = self.problem
        if problem is None:
            return {}
        found = {}
        for data in problem.main:
            device = data.slot.device
            if device.kind == "storage":
                drives = [float(np.max(row)) for row in data.drives]
                states = high_states(data, drives)
                found[supply_terminal(device)] = as_source(data, states, drives)
        return found

    def fuse_breaks(self, kind: str | None) -> FuseBreaks | None:
        known = KINDS.get(kind or "")
        return (
            None if known is None else FuseBreaks(known.interrupts_a, known.voltage_v, known.source)
        )

    def store_source(self, terminal: str) -> tuple[float, float]:
        return self.stores[terminal]

    def open_volts(self, terminal: str) -> float:
        return highest_volts(self, terminal)

    # ---- what the file answers -----------------------------------------------------------------

    def confirmed(self, question: str, device: str = "") -> str:
        return next(
            (
                each.answer
                for each in self.station.confirmed
                if each.question == question and each.subject in ("", device)
            ),
            "",
        )

    def edited(self, *edits: Edit) -> StationInquiry:
        station = self.station
        for edit in edits:
            station = edited(station, edit)
        return StationInquiry(station)
