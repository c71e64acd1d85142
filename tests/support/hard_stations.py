"""Random stations of the devices that switch, open, lock, start and run dry; the same for the same
seed. The figures are invented so that events happen within hours."""

from __future__ import annotations

from typing import Any

import numpy as np
from support.networks import (
    Draft,
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
from copperpath_plugins.storage.lfp import LithiumIronPhosphate


def hard_station(seed: int, steps: int = 60, step_s: float = 300.0) -> Station:
    """One or two small batteries, each behind a fuse or a diode, one or two ways of charging, and
    loads behind a disconnect and an inverter."""
    draft = Draft(np.random.default_rng([seed, 7]))
    random = draft.random
    draft.add("hub", Strip, ways=10.0)
    ways = iter(range(1, 11))
    for k in range(random.integers(1, 3)):
        _add_battery(draft, k, f"hub.{next(ways)}")
    for add in random.choice([_add_mppt, _add_pwm, _add_genset, _add_vehicle], 2, replace=False):
        add(draft, f"hub.{next(ways)}")
    draft.add(
        "cut",
        Disconnect,
        off=random.uniform(11.0, 12.6),
        on=random.uniform(12.7, 13.3),
        off_delay=random.choice([0.0, 600.0]),
        longest_over=random.choice([0.0, 900.0]),
    )
    draft.join(f"hub.{next(ways)}", "cut.line", draft.lead())
    draft.add("far", Strip, ways=4.0)
    draft.join("cut.load", "far.in", draft.lead(0.0))
    add_radio(draft, "rig", "far.1")
    add_load(draft, "lamp", "far.2", 12.0)
    if random.random() < 0.5:
        draft.add("mat", Heater, power=random.uniform(5.0, 30.0), below=283.15)
        draft.join("far.3", "mat.line", draft.lead())
    if random.random() < 0.5:
        _add_socket(draft, f"hub.{next(ways)}")
    settings = make_settings(
        steps * step_s / 3600.0, random.uniform(5.0, 18.0), random.uniform(0.1, 1.0), (2.0, 14.0)
    )
    return draft.station(f"hard {seed}", settings)


def _add_battery(draft: Draft, k: int, target: str) -> None:
    random = draft.random
    capacity, charge = random.uniform(2.0, 20.0) * AMPERE_HOUR, random.uniform(0.05, 0.9)
    if random.random() < 0.5:
        draft.add(f"pack{k}", LithiumIronPhosphate, capacity=capacity, charge=charge)
    else:
        kind = str(random.choice(["flooded", "agm", "gel"]))
        draft.add(f"pack{k}", LeadAcid, capacity=capacity, charge=max(charge, 0.4), kind=kind)
    between: tuple[tuple[Any, dict[str, Any], str, str], ...] = (
        (Fuse, {"rating": random.choice([3.0, 10.0, 30.0])}, "line", "load"),
        (Diode, {"rating": 20.0}, "in", "out"),
        (IdealDiode, {}, "in", "out"),
    )
    model, given, first, second = between[random.integers(len(between))]
    draft.add(f"guard{k}", model, **given)
    draft.join(f"pack{k}.line", f"guard{k}.{first}", draft.lead())
    draft.join(f"guard{k}.{second}", target, draft.lead())
    if model is not Fuse:
        # Behind a diode it is charged by nothing, so it gets a supply of its own now and then.
        draft.add(
            f"bench{k}", Supply, voltage=13.8, limit=random.uniform(0.5, 5.0), on=draft.hours()
        )
        draft.join(f"bench{k}.line", f"pack{k}.line", draft.lead())


def _profile(draft: Draft) -> dict[str, Any]:
    staged = draft.random.random() < 0.5
    return {"profile": "lead_acid" if staged else "lithium", "absorb_for": 1800.0}


def _add_mppt(draft: Draft, target: str) -> None:
    draft.add("mppt", MpptCharger, output_limit=10.0, max_input=60.0, **_profile(draft))
    draft.join("mppt.battery", target, draft.lead())
    add_panel(draft, "roof", "mppt.panel", draft.lead())


def _add_pwm(draft: Draft, target: str) -> None:
    draft.add("pwm", PwmCharger, output_limit=10.0, max_input=60.0, **_profile(draft))
    draft.join("pwm.battery", target, draft.lead())
    add_panel(draft, "wall", "pwm.panel", draft.lead())


def _add_genset(draft: Draft, target: str) -> None:
    random = draft.random
    called = {"start_below": random.uniform(11.5, 13.0)} if random.random() < 0.5 else {}
    draft.add(
        "genset",
        Generator,
        rating=random.uniform(50.0, 1000.0),
        fuel=random.choice([0.05, 1.0]),
        least_run=600.0,
        stop_delay=600.0,
        on=draft.hours(),
        **called,
    )
    draft.add("charger", MainsCharger, output_limit=random.uniform(2.0, 20.0), **_profile(draft))
    draft.join("genset.output", "charger.mains", draft.lead())
    draft.join("charger.battery", target, draft.lead())
    draft.join("genset.sense", target, draft.lead())


def _add_vehicle(draft: Draft, target: str) -> None:
    random = draft.random
    draft.add("starter", LeadAcid, capacity=50 * AMPERE_HOUR, charge=0.9)
    draft.add("alternator", Supply, voltage=14.2, limit=40.0, on=draft.hours())
    draft.add("link", DcCharger, output_limit=random.uniform(5.0, 25.0), **_profile(draft))
    draft.join("alternator.line", "starter.line", draft.lead(0.0))
    draft.join("starter.line", "link.vehicle", draft.lead())
    draft.join("link.battery", target, draft.lead())


def _add_socket(draft: Draft, target: str) -> None:
    random = draft.random
    draft.add("socket", Inverter, rating=300.0, cutoff=random.uniform(10.5, 12.0), restart=12.9)
    draft.join(target, "socket.battery", draft.lead(0.0))
    draft.add("laptop", MainsLoad, power=random.uniform(5.0, 100.0), on=draft.hours())
    draft.join("socket.mains", "laptop.line", draft.lead())
