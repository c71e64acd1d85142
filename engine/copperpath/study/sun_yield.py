"""What each panel of a station can give its battery, by the hour, through controller and cables.

Each panel alone, everything else dark or off, the stores held at their rest voltage (see
`held_stores.py`); what flows without any sun is taken off.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

import numpy as np

from copperpath.network.checks import check_network
from copperpath.network.nodes import make_network
from copperpath.network.refused import refuse_unsolvable
from copperpath.plugin_api import FloatArray, Mount
from copperpath.site import Site, SiteProblem
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.problem import Problem, SlotData, make_problem
from copperpath.solver.twin_newton import dense
from copperpath.solver.twin_offers import offers
from copperpath.station import Device, Station
from copperpath.study.held_stores import HeldStores, hold_stores, inflows
from copperpath.study.sun_days import (
    PIECE_S,
    PIECES_AN_HOUR,
    SunDays,
    make_days,
    typical_days,
)

SAME_VOLTS = 0.15
"""Stores whose rest voltages differ by less than this share count as one battery."""

TOGETHER = "all together"


@dataclass(frozen=True, slots=True)
class PanelYield:
    """Panels that each give the same: amps at the battery by sky, (day, hour) [A], and hours of
    1000 W/m² in their plane by sky, (day,); None for several panels together."""

    names: tuple[str, ...]
    amps: dict[str, FloatArray]
    sun_hours: dict[str, FloatArray] | None

    def amp_hours(self, sky: str) -> FloatArray:
        """Over each day (day,) [Ah]."""
        total: FloatArray = self.amps[sky].sum(axis=1)
        return total


@dataclass(frozen=True, slots=True)
class SunTable:
    """All panels of a station over some days; `battery` and `volts` say where the amps flow."""

    station: Station
    days: tuple[date, ...]
    skies: tuple[str, ...]
    panels: tuple[PanelYield, ...]
    battery: tuple[str, ...]
    volts: float
    own_missing: str

    @property
    def monthly(self) -> bool:
        """True if each day stands for its month."""
        return len(self.days) > 1


class NoTable(Exception):
    """Why a station has no such table, in words."""


def panels_of(station: Station) -> list[Device]:
    """Devices with a mounting: what stands in the sun."""
    return [
        device
        for device in station.devices
        if any(isinstance(value, Mount) for value in device.values.values())
    ]


def sun_table(
    station: Station, day: date | None = None, say: Callable[[str], None] = lambda words: None
) -> SunTable:
    """The yield of each panel on a day, or on a typical day of each month.

    Raises
    ------
    NoTable
        If the station has no panel or no store.
    NetworkRefused, SiteProblem
        As for a run.
    """
    panels = panels_of(station)
    if not panels:
        raise NoTable("this station has no panel, so the sun gives it nothing")
    if not any(device.kind == "storage" for device in station.devices):
        raise NoTable("this station has no battery, and the table is of amps into one")
    refuse_unsolvable(check_network(station))
    say("sun and sky")
    days = typical_days(station.site.starts.year) if day is None else (day,)
    made = make_days(station.site, days, months=day is None)
    work = _prepare(station, made)
    flows = {}
    for device in panels:
        say(f"sun on {device.name}")
        flows[device.name] = work.flows([device])
    if len(panels) > 1:
        say("sun on all panels")
        flows[TOGETHER] = work.flows(panels)
    group = _battery(work.held, list(flows.values()))
    made_panels = [
        PanelYield((name,), _by_sky(made, flow[group].sum(axis=0)), _sun_hours(station, made, name))
        for name, flow in flows.items()
    ]
    names = tuple(work.held.names[place] for place in group)
    volts = float(np.mean([work.held.volts[place] for place in group]))
    skies = tuple(made.skies)
    return SunTable(station, made.days, skies, _merged(made_panels), names, volts, made.own_missing)


@dataclass(frozen=True, slots=True)
class _Work:
    """The problems of all days under all skies one after the other, and the one without sun."""

    lit: tuple[Problem, ...]
    dark: Problem
    held: HeldStores
    base: FloatArray
    """Amps into each store without any sun (store,)."""

    def flows(self, panels: Sequence[Device]) -> FloatArray:
        """Amps that these panels add at each store (store, time), the others dark."""
        names = {device.name for device in panels}
        light = [_light(one.site, panels) for one in self.lit]
        steps = [np.flatnonzero(each > 0.0) for each in light]
        found = np.zeros((len(self.held.slots), sum(len(each) for each in light)))
        bright = np.flatnonzero(np.concatenate(light) > 0.0)
        if len(bright) == 0:
            return found
        main = [
            self._drives(k, steps, names, lambda problem: problem.main)
            for k in range(len(self.dark.main))
        ]
        found[:, bright] = inflows(self.held, main, self._tables(steps, names))
        found[:, bright] -= self.base[:, None]
        return np.maximum(found, 0.0)

    def _drives(
        self,
        place: int,
        steps: list[np.ndarray],
        names: set[str],
        of: Callable[[Problem], tuple[SlotData, ...]],
    ) -> FloatArray:
        """Drives (drive, point) of a slot: as lit if it is one of those panels, else at rest."""
        data = of(self.dark)[place]
        if data.slot.device.name not in names:
            count = sum(len(each) for each in steps)
            return np.repeat(_resting(data)[:, None], count, axis=1)
        rows = [of(one)[place].drives[:, at] for one, at in zip(self.lit, steps, strict=True)]
        return np.concatenate(rows, axis=1)

    def _tables(self, steps: list[np.ndarray], names: set[str]) -> list[FloatArray]:
        """What each seeking terminal is offered (point, 2 * OFFER_POINTS)."""
        network, count = self.dark.network, sum(len(each) for each in steps)
        made: dict[int, tuple[FloatArray, FloatArray]] = {}
        for zone, slots in enumerate(self.dark.zones):
            if not any(data.slot.device.name in names for data in slots):
                continue
            lit = tuple(
                _with_drives(data, self._drives(k, steps, names, partial(_zone_slots, zone)))
                for k, data in enumerate(slots)
            )
            offered = offers(dense(network.zones[zone], lit), count)
            made[zone] = offered.tables, offered.shares
        tables = []
        for zone, port in network.seekers:
            table = no_offer(count)
            if zone in made:
                table = made[zone][0].copy()
                table[:, OFFER_POINTS:] *= made[zone][1][:, port, None]
            tables.append(table)
        return tables


def no_offer(count: int) -> FloatArray:
    """Tables (point, 2 * OFFER_POINTS) of panels in the dark."""
    table = np.zeros((count, 2 * OFFER_POINTS))
    table[:, :OFFER_POINTS] = 0.5 * np.arange(1, OFFER_POINTS + 1) / OFFER_POINTS
    return table


def _prepare(station: Station, made: SunDays) -> _Work:
    network = make_network(station)
    lit = tuple(
        make_problem(station, network, site) for sites in made.skies.values() for site in sites
    )
    dark = make_problem(station, network, made.dark)
    held = hold_stores(network, dark.main)
    resting = [_resting(data)[:, None] for data in dark.main]
    base = inflows(held, resting, [no_offer(1) for _ in network.seekers])
    if not np.isfinite(base).all():
        raise SiteProblem(
            "no operating point was found with all loads off and the stores held at rest",
            "`copperpath check` looks at the wiring",
        )
    return _Work(lit, dark, held, base[:, 0])


def _resting(data: SlotData) -> FloatArray:
    """Drives (drive,) with nothing wanted, nothing keyed, and everything else at its least."""
    model = data.slot.device.model
    off = ("level", model.demand)
    rows = [
        0.0 if name in off else float(values.min())
        for name, values in zip(data.shape.d_fields, data.drives, strict=True)
    ]
    return np.array(rows, dtype=np.float64)


def _with_drives(data: SlotData, drives: FloatArray) -> SlotData:
    return replace(data, drives=drives)


def _zone_slots(zone: int, problem: Problem) -> tuple[SlotData, ...]:
    return problem.zones[zone]


def _light(site: Site, panels: Sequence[Device]) -> FloatArray:
    """The most light on any of these panels (time,) [W/m²]."""
    light = [site.plane_irradiance(_mount(device)) for device in panels]
    return np.asarray(np.max(light, axis=0), dtype=np.float64)


def _mount(device: Device) -> Mount:
    return next(value for value in device.values.values() if isinstance(value, Mount))


def _by_sky(made: SunDays, amps: FloatArray) -> dict[str, FloatArray]:
    """Hourly means by sky (day, 24) of amps (time,) that lie one sky after the other."""
    days = len(made.days)
    hourly = amps.reshape(len(made.skies), days, 24, PIECES_AN_HOUR).mean(axis=3)
    return dict(zip(made.skies, hourly, strict=True))


def _sun_hours(station: Station, made: SunDays, name: str) -> dict[str, FloatArray] | None:
    if name == TOGETHER:
        return None
    mount = _mount(station.device(name))
    return {
        sky: np.array([site.plane_irradiance(mount).sum() * PIECE_S / 3.6e6 for site in sites])
        for sky, sites in made.skies.items()
    }


def _battery(held: HeldStores, flows: list[FloatArray]) -> list[int]:
    """The stores that count as the battery: the one that gets most, and those of like volts."""
    gets = np.sum([np.nansum(flow, axis=1) for flow in flows], axis=0)
    volts = held.volts[int(np.argmax(gets))]
    return [k for k, each in enumerate(held.volts) if abs(each / volts - 1.0) <= SAME_VOLTS]


def _merged(panels: Sequence[PanelYield]) -> tuple[PanelYield, ...]:
    """Panels that give the same stand together."""
    kept: list[PanelYield] = []
    for panel in panels:
        for place, other in enumerate(kept):
            alike = TOGETHER not in panel.names and all(
                np.allclose(panel.amps[sky], other.amps[sky], rtol=1e-4, atol=1e-4)
                for sky in panel.amps
            )
            if alike:
                kept[place] = PanelYield((*other.names, *panel.names), other.amps, other.sun_hours)
                break
        else:
            kept.append(panel)
    return tuple(kept)
