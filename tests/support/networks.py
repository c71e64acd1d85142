"""Random stations, the same for the same seed, and small hands for building stations in tests.

The figures are invented. They are chosen to meet what makes solving hard: unlike panels on thin
leads, cold batteries, batteries at their floor, converters at their limits, keyed radios.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from typing import Any

import numpy as np
from support.sample_devices import AMPERE_HOUR, settled

from copperpath.network.nodes import make_network
from copperpath.plugin_api import AmbientRule, Model, Mount, Schedule, Span24
from copperpath.site import station_site
from copperpath.solver.problem import Problem, make_problem
from copperpath.station import Cable, ClearSky, Device, SiteSettings, Station, TerminalRef
from copperpath_grammar.source import Source, Span
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.step_down import StepDown
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.loads.transceiver import Transceiver
from copperpath_plugins.loads.usb_device import UsbDevice
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

HOUR = 3600.0
COPPER_OHM_MM2_PER_M = 0.0175
"""Resistance of a copper wire of 1 m and 1 mm², from memory; any figure would do here."""

TEXT = Source("made by hand", "made by hand")
SPAN = Span(TEXT, 0, 1)
LABELS = (
    {"power": 28.0, "vmp": 17.6, "voc": 21.4, "isc": 1.75},
    {"power": 60.0, "vmp": 18.2, "voc": 22.3, "isc": 3.6},
    {"power": 100.0, "vmp": 18.9, "voc": 22.8, "isc": 5.7},
    {"power": 12.0, "vmp": 16.8, "voc": 20.9, "isc": 0.78},
)
"""Invented panel labels of one voltage class."""


def lead_ohm(length_m: float, area_mm2: float) -> float:
    """Out and back [ohm]."""
    return 2.0 * COPPER_OHM_MM2_PER_M * length_m / area_mm2


def make_device(name: str, model: type[Model], **given: Any) -> Device:
    """A device with its values settled."""
    values = settled(model, **given)
    return Device(name, model.kind, model, values, frozenset(given), None, None, SPAN)


def make_cable(start: str, end: str, ohm: float) -> Cable:
    """A cable from `device.terminal` to `device.terminal`."""
    one, other = start.split("."), end.split(".")
    return Cable(
        f"{start} -> {end}",
        TerminalRef(*one),
        TerminalRef(*other),
        1.0,
        "1 mm2",
        1e-6,
        ohm,
        (),
        (),
        0.0,
        SPAN,
    )


def make_settings(
    hours: float,
    starts_at: float = 6.0,
    light: float = 1.0,
    air_c: tuple[float, float] = (8.0, 19.0),
) -> SiteSettings:
    """A midsummer site at 64 degrees north."""
    clock = timezone(timedelta(hours=3))
    starts = datetime(2026, 6, 19, tzinfo=clock) + timedelta(hours=starts_at)
    low, high = (value + 273.15 for value in air_c)
    sky = ClearSky(light, {})
    return SiteSettings(64.22, 27.73, 140.0, starts, hours * HOUR, sky, low, high, 0.2, False)


def problem_of(station: Station, step_s: float) -> Problem:
    """Network, site and problem of a station."""
    return make_problem(station, make_network(station), station_site(station, step_s))


@dataclass
class Draft:
    """A station being put together."""

    random: np.random.Generator
    devices: list[Device] = field(default_factory=list)
    cables: list[Cable] = field(default_factory=list)

    def add(self, name: str, model: type[Model], **given: Any) -> None:
        self.devices.append(make_device(name, model, **given))

    def join(self, start: str, end: str, ohm: float) -> None:
        self.cables.append(make_cable(start, end, ohm))

    def lead(self, thin: float = 0.2) -> float:
        """A lead's resistance [ohm], now and then 15 m of 0.75 mm²."""
        if self.random.random() < thin:
            return lead_ohm(15.0, 0.75)
        return lead_ohm(self.random.uniform(0.2, 3.0), self.random.choice([0.75, 1.5, 2.5, 4.0]))

    def hours(self) -> Schedule:
        """Always on, or on in a window that may cross midnight or end inside a step."""
        if self.random.random() < 0.5:
            return Schedule((), 1.0)
        start, end = self.random.uniform(0.0, 86400.0, 2)
        return Schedule((Span24(start, end, 1.0),), 0.0)

    def station(self, title: str, settings: SiteSettings) -> Station:
        return Station(title, settings, tuple(self.devices), tuple(self.cables), (), (), TEXT)


def random_station(seed: int, steps: int = 48, step_s: float = 300.0) -> Station:
    """A star of batteries, controllers with panels, strips, converters, radios and loads."""
    draft = Draft(np.random.default_rng(seed))
    random = draft.random
    batteries, controllers = random.integers(1, 4), random.integers(0, 4)
    radios, loads = random.integers(0, 7), random.integers(0, 4)
    converters = random.integers(0, 3)
    draft.add("hub", Strip, ways=float(batteries + controllers + 2), contact=0.001)
    draft.add("far", Strip, ways=float(radios + loads + converters + 1), contact=0.002)
    for k in range(batteries):
        add_battery(draft, f"pack{k}")
        draft.join(f"pack{k}.line", f"hub.{k + 1}", draft.lead())
    for k in range(controllers):
        add_controller(draft, f"regulator{k}", f"hub.{batteries + k + 1}")
    draft.join(f"hub.{batteries + controllers + 1}", "far.in", draft.lead(0.1))
    way = iter(range(1, 100))
    for k in range(radios):
        add_radio(draft, f"rig{k}", f"far.{next(way)}")
    for k in range(loads):
        add_load(draft, f"lamp{k}", f"far.{next(way)}", 12.0)
    for k in range(converters):
        add_converter(draft, f"fiver{k}", f"far.{next(way)}")
    hours = steps * step_s / HOUR
    settings = make_settings(
        hours, random.uniform(0.0, 24.0), random.uniform(0.05, 1.0), _air(random)
    )
    return draft.station(f"random {seed}", settings)


def chattering_station(seed: int, steps: int = 72, step_s: float = 300.0) -> Station:
    """A small battery that a load drains to its floor, or sags to its cut-off, every few minutes,
    and that the sun fills a little while the load rests."""
    draft = Draft(np.random.default_rng([seed, 1]))
    random = draft.random
    available = random.uniform(0.85, 0.99)
    draft.add(
        "pack0",
        LithiumIronPhosphate,
        capacity=random.uniform(0.5, 2.0) * AMPERE_HOUR,
        charge=1.0 - available + random.uniform(0.0, 0.1),
        available=available,
        cutoff=random.uniform(11.5, 12.9) if random.random() < 0.5 else 10.4,
        charge_above=random.choice([173.15, 280.0]),
        thermal_lag=random.choice([0.0, 1800.0]),
    )
    draft.add("hub", Strip, ways=6.0)
    draft.join("pack0.line", "hub.in", draft.lead(0.4))
    add_controller(draft, "regulator0", "hub.1")
    period = random.uniform(900.0, 3600.0)
    pulses = tuple(
        Span24(k * period, k * period + 0.5 * period, 1.0) for k in range(int(86400.0 / period))
    )
    amps, works = random.uniform(0.5, 6.0), (10.5, 15.0)
    draft.add("lamp0", Steady, current=amps, on=Schedule(pulses, 0.0), works=works)
    draft.join("hub.2", "lamp0.line", draft.lead())
    add_radio(draft, "rig0", "hub.3")
    if random.random() < 0.5:
        add_converter(draft, "fiver0", "hub.4")
    settings = make_settings(
        steps * step_s / HOUR, random.uniform(5.0, 18.0), random.uniform(0.1, 1.0), _air(random)
    )
    return draft.station(f"chattering {seed}", settings)


def _air(random: np.random.Generator) -> tuple[float, float]:
    low = float(random.uniform(-15.0, 15.0))
    return low, low + float(random.uniform(2.0, 15.0))


def add_battery(draft: Draft, name: str) -> None:
    """Full, half empty or at its floor; some too cold to take charge."""
    random = draft.random
    given: dict[str, Any] = {}
    if random.random() < 0.3:
        given["temperature"] = AmbientRule(fixed_k=random.uniform(258.15, 276.15))
    if random.random() < 0.3:
        given["available"] = random.uniform(0.7, 1.0)
    if random.random() < 0.3:
        given["cutoff"] = random.uniform(10.4, 12.9)
    draft.add(
        name,
        LithiumIronPhosphate,
        capacity=random.uniform(2.0, 60.0) * AMPERE_HOUR,
        charge=random.choice([random.uniform(0.0, 0.3), random.uniform(0.3, 0.95), 1.0]),
        thermal_lag=random.choice([0.0, 600.0, 7200.0]),
        **given,
    )


def add_panel(draft: Draft, name: str, target: str, lead: float, **given: Any) -> None:
    """A panel on its lead, of an unlike size and aim."""
    random = draft.random
    label = LABELS[random.integers(len(LABELS))]
    mount = Mount(random.uniform(0.0, 90.0), random.uniform(0.0, 360.0))
    draft.add(name, Photovoltaic, **{**label, "mount": mount, **given})
    draft.join(f"{name}.out", target, lead)


def add_controller(draft: Draft, name: str, target: str) -> None:
    """A controller with one to three panels in parallel."""
    random = draft.random
    draft.add(
        name,
        MpptCharger,
        output_limit=random.choice([2.0, 5.0, 10.0]),
        max_input=60.0,
        idle=random.choice([0.0, 0.012, 0.035]),
        start_headroom=random.choice([1.0, 5.0]),
    )
    draft.join(f"{name}.battery", target, draft.lead(0.1))
    series = float(random.choice([1.0, 1.0, 2.0]))
    for k in range(random.integers(1, 4)):
        lead = draft.lead(0.4)
        add_panel(draft, f"{name}panel{k}", f"{name}.panel", lead, series=series)


def add_radio(draft: Draft, name: str, target: str) -> None:
    """A radio of some mode, by the hour."""
    random = draft.random
    receive = random.uniform(0.05, 0.6)
    draft.add(
        name,
        Transceiver,
        receive=receive,
        transmit=receive + random.uniform(0.3, 6.0),
        transmitting=Schedule((), random.choice([0.0, 0.05, 0.3, 1.0])),
        mode=str(random.choice(["ssb", "cw", "fm"])),
        on=draft.hours(),
        works=(random.uniform(9.0, 12.0), 15.5),
    )
    draft.join(target, f"{name}.line", draft.lead())


def add_load(draft: Draft, name: str, target: str, volts: float) -> None:
    """A load that holds power, current or resistance."""
    random = draft.random
    watts = random.uniform(0.5, 30.0 if volts > 6.0 else 6.0)
    kind = str(random.choice(["power", "current", "resistance"]))
    value = {"power": watts, "current": watts / volts, "resistance": volts**2 / watts}[kind]
    works = (0.875 * volts, 1.25 * volts)
    draft.add(name, Steady, **{kind: value, "on": draft.hours(), "works": works})
    draft.join(target, f"{name}.line", draft.lead())


def add_converter(draft: Draft, name: str, target: str) -> None:
    """A step-down to 5 V with one or two things behind it."""
    random = draft.random
    draft.add(
        name,
        StepDown,
        output=5.0,
        output_limit=random.choice([1.0, 3.0]),
        input=(random.uniform(8.0, 11.5), 30.0),
    )
    draft.join(target, f"{name}.in", draft.lead())
    draft.add(f"{name}phone", UsbDevice, power=random.uniform(1.0, 7.0), on=draft.hours())
    draft.join(f"{name}.out", f"{name}phone.line", draft.lead())
    if random.random() < 0.5:
        add_load(draft, f"{name}lamp", f"{name}.out", 5.0)
