"""What a rule may ask, worked out when it is asked for and kept."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from copperpath.inquiry.budget import Budget
from copperpath.inquiry.corner_site import corner_site
from copperpath.inquiry.corners import best_offers, charging_corner, high_corner, low_corners
from copperpath.inquiry.edits import CABLE_EDITS, edited
from copperpath.inquiry.ohms import with_cables_of
from copperpath.inquiry.open_volts import highest_volts
from copperpath.inquiry.panel_side import open_panel_volts
from copperpath.inquiry.store_source import as_source
from copperpath.network.checks import check_network, solvable
from copperpath.network.nodes import make_network
from copperpath.plugin_api import FloatArray
from copperpath.plugin_api.edits import Edit, SetWire
from copperpath.plugin_api.inquiry import Ampacity, CableView, Corner, Feed, FuseBreaks, Protection
from copperpath.site.air import coldest_air, warmest_air
from copperpath.solver.problem import Problem, make_problem
from copperpath.station import Bond, Cable, DataLead, Device, Station
from copperpath.study.corners import high_states
from copperpath.wiring.ampacity import ampacity_of
from copperpath.wiring.feed import Feeds
from copperpath.wiring.lines import supply_terminal
from copperpath.wiring.protection import Protections
from copperpath.wiring.short_circuit import Shorts
from copperpath.wiring.standard_fuses import KINDS, ratings_of
from copperpath.wiring.standard_sizes import larger_sizes
from copperpath.wiring.wiring import Wiring

A_LINE = 12.0
"""What walking along a line counts, in entries of matrices (about as long, measured)."""


class StationInquiry:
    """A station and what can be worked out of it; implements `copperpath.plugin_api.Inquiry`."""

    def __init__(
        self, station: Station, base: StationInquiry | None = None, budget: Budget | None = None
    ) -> None:
        """`base` is an inquiry from which this one differs in cables alone."""
        self.station = station
        self.base = base
        self.budget = budget or Budget()
        self.together: tuple[StationInquiry, ...] = ()
        self._corners: dict[str, Corner] = {}
        self._edited: dict[tuple[Edit, ...], StationInquiry] = {}

    @cached_property
    def same_ohms(self) -> StationInquiry | None:
        """The inquiry that this one differs from in facts alone, if so: it has the same corners."""
        if self.base is None:
            return None
        ours, theirs = self.station.cables, self.base.station.cables
        same = all(a.resistance_ohm == b.resistance_ohm for a, b in zip(ours, theirs, strict=True))
        return self.base if same else None

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
        if self.base is not None:
            known = self.base.problem
            return None if known is None else with_cables_of(known, self.station)
        if not solvable(check_network(self.station)):
            return None
        site = corner_site(self.station, self.air_low_k, self.air_high_k)
        return make_problem(self.station, make_network(self.station), site, columns=False)

    @property
    def low(self) -> Corner:
        return self._low("low")

    @property
    def sending(self) -> Corner:
        return self._low("sending")

    @property
    def listening(self) -> Corner:
        return self._low("listening")

    def _low(self, name: str) -> Corner:
        """One of the corners without sun; it is worked out for all sizes of a cable at once."""
        if name not in self._corners:
            if self.same_ohms is not None:
                self._corners[name] = self.same_ohms._low(name)
            else:
                together = [each for each in self.together or (self,) if name not in each._corners]
                self.spend(len(together))
                for each, corner in zip(together, low_corners(together, name), strict=True):
                    each._corners[name] = corner
        return self._corners[name]

    @cached_property
    def high(self) -> Corner:
        if self.same_ohms is not None:
            return self.same_ohms.high
        self.spend(1)
        return high_corner(self.problem, self.offers)

    @cached_property
    def charging(self) -> Corner:
        if self.same_ohms is not None:
            return self.same_ohms.charging
        self.spend(1)
        return charging_corner(self.problem, self.offers)

    @cached_property
    def offers(self) -> FloatArray | None:
        """What each seeking terminal is offered with panels at their best; None without a
        problem."""
        return None if self.problem is None else best_offers(self.problem)

    def spend(self, points: int) -> None:
        """Count what is solved again for edits; the station as written always is."""
        known = None if self.base is None else self.base.problem
        if known is not None:
            self.budget.spend(points * len(known.network.main.merged.nodes) ** 2)

    # ---- the wiring by its shape ---------------------------------------------------------------

    @cached_property
    def _by_name(self) -> dict[str, Device]:
        return {device.name: device for device in self.station.devices}

    def device(self, name: str) -> Device:
        return self._by_name[name]

    def cable(self, name: str) -> Cable:
        return self.wiring.cables[name]

    def cables_at(self, device: str, terminal: str = "") -> Sequence[Cable]:
        return [
            cable
            for cable in self.station.cables
            for end in (cable.start, cable.end)
            if end.device == device and terminal in ("", end.terminal)
        ]

    def supply_terminal(self, device: str) -> str:
        return supply_terminal(self._by_name[device])

    @cached_property
    def wiring(self) -> Wiring:
        """The wiring by its shape."""
        return Wiring(self.station)

    @cached_property
    def _feeds(self) -> Feeds:
        return Feeds(self.wiring)

    @cached_property
    def _protections(self) -> Protections:
        return Protections(self.wiring, self._walked)

    def _walked(self, lines: int) -> None:
        """Count a walk along all lines of an edited station."""
        if self.base is not None:
            self.budget.spend(A_LINE * lines)

    @cached_property
    def _shorts(self) -> Shorts:
        if self.same_ohms is not None:
            return self.same_ohms._shorts
        return Shorts(self.wiring, self.stores)

    def feed(self, terminal: str) -> Feed | None:
        return self._feeds.of(terminal)

    def joined(self, terminal: str) -> frozenset[str]:
        return self.wiring.joined(terminal)

    def ampacity(self, cable: CableView) -> Ampacity | None:
        return ampacity_of(cable, self.air_high_k)

    def larger_wires(self, cable: CableView) -> tuple[str, ...]:
        return larger_sizes(cable)

    def fuse_ratings(self, kind: str | None) -> tuple[float, ...]:
        return ratings_of(kind)

    def protection(self, cable: CableView) -> tuple[Protection, ...]:
        return self._protections.of(cable)

    def short_circuit(self, terminal: str) -> float:
        return self._shorts.at(terminal)

    @cached_property
    def stores(self) -> dict[str, tuple[float, float]]:
        """Open voltage [V] and resistance [ohm] of each store when full and warm, by terminal."""
        if self.base is not None:
            return self.base.stores
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

    @cached_property
    def panel_side(self) -> dict[str, float]:
        """Volts at each terminal of the panels' side with nothing taken [V]."""
        if self.base is not None:
            return self.base.panel_side
        return {} if self.problem is None else open_panel_volts(self.problem)

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
        if edits not in self._edited:
            station = self.station
            for edit in edits:
                station = edited(station, edit)
            cables_alone = all(isinstance(edit, CABLE_EDITS) for edit in edits)
            base = self if cables_alone else None
            self._edited[edits] = StationInquiry(station, base, self.budget)
        return self._edited[edits]

    def in_sizes(
        self, cable: str, sizes: Sequence[str], *edits: Edit
    ) -> tuple[StationInquiry, ...]:
        self.budget.spend(len(self.station.cables) * len(sizes))
        several = tuple(self.edited(*edits, SetWire(cable, size)) for size in sizes)
        for each in several:
            each.together = several
        return several
