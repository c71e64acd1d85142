"""Random stations of everything that switches by itself: disconnects, fuses, batteries that lock
themselves off, chargers with stages, generators with a tank, thermostats, mains. The same for the
same seed; the figures are invented.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from support.networks import (
    HOUR,
    Draft,
    add_battery,
    add_controller,
    add_converter,
    add_load,
    add_panel,
    add_radio,
    make_settings,
)
from support.sample_devices import AMPERE_HOUR

from copperpath.station import Station
from copperpath_plugins.blocks.diode import Diode
from copperpath_plugins.blocks.disconnect import Disconnect
from copperpath_plugins.blocks.fuse import Fuse
from copperpath_plugins.blocks.ideal_diode import IdealDiode
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.converters.dc_charger import DcCharger
from copperpath_plugins.converters.inverter import Inverter
from copperpath_plugins.converters.mains_charger import MainsCharger
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.pwm_charger import PwmCharger
from copperpath_plugins.loads.heater import Heater
from copperpath_plugins.loads.mains_load import MainsLoad
from copperpath_plugins.sources.generator import Generator
from copperpath_plugins.sources.supply import Supply
from copperpath_plugins.storage.lead_acid import LeadAcid

Adder = Callable[[Draft, str, str], None]
"""Adds a device of this name, and what belongs to it, to a terminal."""


def latched_station(seed: int, steps: int = 24, step_s: float = 300.0) -> Station:
    """A battery or two, chargers of several kinds, and loads behind fuses and disconnects."""
    draft = Draft(np.random.default_rng([seed, 5]))
    random = draft.random
    feeds = int(random.integers(1, 4))
    guarded = int(random.integers(1, 4))
    draft.add("hub", Strip, ways=float(2 + feeds + guarded), contact=0.001)
    add_store(draft, "pack", "hub.1")
    if random.random() < 0.4:
        add_store(draft, "spare", "hub.2")
    for k in range(feeds):
        feed = FEEDS[random.integers(len(FEEDS))]
        feed(draft, f"feed{k}", f"hub.{3 + k}")
    for k in range(guarded):
        target = add_guard(draft, f"guard{k}", f"hub.{3 + feeds + k}")
        for place in range(random.integers(1, 3)):
            load = LOADS[random.integers(len(LOADS))]
            load(draft, f"load{k}{place}", target)
    low = float(random.uniform(-12.0, 15.0))
    settings = make_settings(
        steps * step_s / HOUR,
        random.uniform(0.0, 24.0),
        random.uniform(0.05, 1.0),
        (low, low + float(random.uniform(2.0, 15.0))),
    )
    return draft.station(f"latched {seed}", settings)


def add_store(draft: Draft, name: str, target: str) -> None:
    """A lithium or a lead battery, full, half empty or nearly empty."""
    random = draft.random
    if random.random() < 0.6:
        add_battery(draft, name)
    else:
        draft.add(
            name,
            LeadAcid,
            kind=str(random.choice(["flooded", "agm", "gel"])),
            capacity=random.uniform(5.0, 100.0) * AMPERE_HOUR,
            charge=random.choice([random.uniform(0.05, 0.4), random.uniform(0.4, 0.95), 1.0]),
        )
    draft.join(f"{name}.line", target, draft.lead(0.1))


# ---- what feeds -----------------------------------------------------------------------------


def _profile(draft: Draft) -> str:
    return str(draft.random.choice(["lithium", "lead_acid"]))


def add_tracking_charger(draft: Draft, name: str, target: str) -> None:
    """A tracking charger with stages, and a panel or two."""
    random = draft.random
    draft.add(
        name,
        MpptCharger,
        output_limit=random.choice([2.0, 5.0, 10.0]),
        max_input=60.0,
        profile="lead_acid",
        absorb_for=random.choice([600.0, 3600.0]),
    )
    draft.join(f"{name}.battery", target, draft.lead(0.1))
    for k in range(random.integers(1, 3)):
        add_panel(draft, f"{name}panel{k}", f"{name}.panel", draft.lead(0.4))


def add_pulsing_charger(draft: Draft, name: str, target: str) -> None:
    """A panel connected through by a charger that pulses."""
    random = draft.random
    draft.add(
        name,
        PwmCharger,
        output_limit=random.choice([5.0, 10.0]),
        max_input=60.0,
        profile=_profile(draft),
    )
    draft.join(f"{name}.battery", target, draft.lead(0.1))
    add_panel(draft, f"{name}panel", f"{name}.panel", draft.lead(0.3))


def add_vehicle(draft: Draft, name: str, target: str) -> None:
    """A vehicle's battery, kept up by a supply at times, and a charger from it."""
    random = draft.random
    add_store(draft, f"{name}starter", f"{name}.vehicle")
    if random.random() < 0.7:
        draft.add(
            f"{name}engine",
            Supply,
            voltage=random.uniform(13.2, 14.6),
            limit=40.0,
            on=draft.hours(),
        )
        draft.join(f"{name}engine.line", f"{name}.vehicle", draft.lead(0.0))
    draft.add(name, DcCharger, output_limit=random.choice([5.0, 20.0]), profile=_profile(draft))
    draft.join(f"{name}.battery", target, draft.lead(0.1))


def add_generator(draft: Draft, name: str, target: str) -> None:
    """A generator that starts by a battery's voltage or by the hour, and a charger on it."""
    random = draft.random
    starts = random.uniform(11.5, 13.2)
    draft.add(
        name,
        Generator,
        rating=random.uniform(300.0, 1500.0),
        start_below=starts,
        stop_above=starts + random.uniform(0.5, 1.5),
        tank=1e-3 * random.uniform(0.05, 2.0),
        start_delay=random.choice([60.0, 600.0]),
        least_run=random.choice([0.0, 900.0]),
    )
    draft.add(
        f"{name}charger",
        MainsCharger,
        output_limit=random.uniform(5.0, 30.0),
        profile=_profile(draft),
    )
    draft.join(f"{name}.output", f"{name}charger.mains", 0.2)
    draft.join(f"{name}charger.battery", target, draft.lead(0.1))
    draft.join(f"{name}.sense", target, 0.1)
    if random.random() < 0.3:
        draft.add(f"{name}drill", MainsLoad, power=random.uniform(20.0, 900.0), on=draft.hours())
        draft.join(f"{name}.output", f"{name}drill.line", 0.3)


def add_supply(draft: Draft, name: str, target: str) -> None:
    """A bench supply by the hour behind a diode."""
    random = draft.random
    draft.add(
        name,
        Supply,
        voltage=random.uniform(12.5, 14.6),
        limit=random.uniform(1.0, 20.0),
        on=draft.hours(),
    )
    if random.random() < 0.5:
        draft.add(f"{name}diode", Diode, rating=20.0)
    else:
        draft.add(f"{name}diode", IdealDiode)
    draft.join(f"{name}.line", f"{name}diode.in", draft.lead(0.0))
    draft.join(f"{name}diode.out", target, draft.lead(0.1))


FEEDS: tuple[Adder, ...] = (
    add_controller,
    add_tracking_charger,
    add_pulsing_charger,
    add_vehicle,
    add_generator,
    add_supply,
)


# ---- what guards, and what is fed -----------------------------------------------------------


def add_guard(draft: Draft, name: str, source: str) -> str:
    """A disconnect, a fuse or nothing in front of loads; the terminal to hang them on."""
    random = draft.random
    kind = random.random()
    if kind < 0.5:
        off = random.uniform(11.0, 13.0)
        draft.add(
            name,
            Disconnect,
            off=off,
            on=off + random.uniform(0.2, 1.0),
            off_delay=random.choice([0.0, 30.0, 600.0]),
            on_delay=random.choice([0.0, 30.0, 600.0]),
        )
    elif kind < 0.85:
        draft.add(name, Fuse, rating=random.choice([3.0, 5.0, 10.0]))
    else:
        return source
    draft.join(source, f"{name}.line", draft.lead(0.1))
    return f"{name}.load"


def add_some_load(draft: Draft, name: str, target: str) -> None:
    """A load for 12 V."""
    add_load(draft, name, target, 12.0)


def add_heater(draft: Draft, name: str, target: str) -> None:
    """A heater with a thermostat."""
    random = draft.random
    draft.add(name, Heater, power=random.uniform(5.0, 60.0), below=random.uniform(265.0, 290.0))
    draft.join(target, f"{name}.line", draft.lead())


def add_inverter(draft: Draft, name: str, target: str) -> None:
    """An inverter and something on its socket."""
    random = draft.random
    draft.add(name, Inverter, rating=random.uniform(150.0, 600.0))
    draft.join(target, f"{name}.battery", draft.lead(0.1))
    draft.add(f"{name}set", MainsLoad, power=random.uniform(5.0, 200.0), on=draft.hours())
    draft.join(f"{name}.mains", f"{name}set.line", 0.2)


LOADS: tuple[Adder, ...] = (
    add_some_load,
    add_radio,
    add_converter,
    add_heater,
    add_inverter,
)
