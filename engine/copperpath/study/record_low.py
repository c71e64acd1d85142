"""The coldest air on record: what gives and what stores as they stand in it, and the highest
voltage that panels then put on a controller with nothing taken from them.

Panels are in full sun, 1000 W/m², with cells as cold as the air, as the wiring rules reckon it
(NFPA 70, 690.7): a clear morning after the coldest night.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from copperpath.plugin_api import FloatArray, Lag, Terminal
from copperpath.site import cut_site
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.twin_newton import dense
from copperpath.solver.twin_offers import offers
from copperpath.station import Assumption

ONE = slice(0, 1)


def panels_in_the_cold(data: SlotData, record_low_k: float | None) -> SlotData | None:
    """A source over one step at the record low; None without a record, or if it does not care."""
    if record_low_k is None:
        return None
    given = data.slot.device.model.at_record_low(record_low_k, data.values)
    if not given:
        return None
    drives = np.array([[given.get(name, 0.0)] for name in data.shape.d_fields])
    return replace(data, drives=drives)


def followed_in_the_cold(problem: Problem, data: SlotData) -> dict[str, float]:
    """Drives that a lag follows (the cold around a battery) at the record low, by name."""
    record_low_k = problem.station.site.record_low_k
    model = data.slot.device.model
    followed = {state.initial for state in data.states if isinstance(state, Lag)}
    if record_low_k is None or not followed & set(model.drives):
        return {}
    here = cut_site(problem.site, ONE)
    cold = replace(here, air_k=np.array([record_low_k]))
    made = model.drive(cold, data.values)
    return {name: float(made[name][0]) for name in model.drives if name in followed}


def highest_volts(problem: Problem) -> FloatArray | None:
    """Voltage of each zone of panels (zone,) at the record low with nothing taken; None without a
    record."""
    record_low_k = problem.station.site.record_low_k
    if record_low_k is None:
        return None
    tops = np.zeros(len(problem.zones))
    for zone, slots in enumerate(problem.zones):
        cold = tuple(
            panels_in_the_cold(data, record_low_k) or replace(data, drives=data.drives[:, ONE])
            for data in slots
        )
        tops[zone] = offers(dense(problem.network.zones[zone], cold), 1).tops[0]
    return tops


def note(problem: Problem) -> tuple[Assumption, ...]:
    """That no record low is given, where panels stand before a limit."""
    if problem.station.site.record_low_k is not None or not _has_limits(problem):
        return ()
    coldest = float(problem.site.air_k.min()) - 273.15
    basis = "panel sides are held against the coldest air of the run; give the record of the place"
    return (Assumption("station", "record_low", f"{coldest:.3g} °C", basis),)


def _has_limits(problem: Problem) -> bool:
    return any(
        isinstance(terminal, Terminal) and terminal.seeking and terminal.limit
        for data in problem.main
        for terminal in data.slot.device.model.terminals
    )
