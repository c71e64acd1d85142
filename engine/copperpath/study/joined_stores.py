"""Stores that push current into each other because they stand at unlike voltages when joined."""

from __future__ import annotations

import numpy as np

from copperpath.finding import Finding
from copperpath.network.nodes import wired_parts
from copperpath.record.run import Run, main_terminal
from copperpath.record.times import day_and_time
from copperpath.station import Device
from copperpath_grammar.diagnostics import Level

NOTABLE_A = 1.0
"""Current from one store into another below which nothing is said: a choice."""

HARMFUL_PER_HOUR = 0.5
"""Share of the taker's rated charge an hour from which on it is a danger: common practice, no
source; below it is a warning."""


def findings(run: Run) -> list[Finding]:
    """For the stores of each piece of wiring, the largest moment at which one feeds another."""
    station = run.problem.station
    stores = [device for device in station.devices if device.kind == "storage"]
    if len(stores) < 2:
        return []
    found = []
    for part in wired_parts(station, through_one_way=False):
        joined = [s for s in stores if f"{s.name}.{main_terminal(s)}" in part]
        if len(joined) > 1:
            found += _among(run, joined)
    return found


def _among(run: Run, stores: list[Device]) -> list[Finding]:
    """What is said of stores on one piece of wiring."""
    amps = np.stack(
        [run.flows[store.name].amps[0][:, run.problem.columns.mean] for store in stores]
    )
    amps = np.nan_to_num(amps)
    fed = np.minimum(np.maximum(-amps, 0.0).max(axis=0), np.maximum(amps, 0.0).max(axis=0))
    step = int(np.argmax(fed))
    if fed[step] < NOTABLE_A:
        return []
    giver = stores[int(np.argmin(amps[:, step]))]
    taker = stores[int(np.argmax(amps[:, step]))]
    return [_finding(run, step, giver, taker, float(fed[step]))]


def _finding(run: Run, step: int, giver: Device, taker: Device, amps: float) -> Finding:
    rated = float(taker.values.get("capacity", float("nan"))) / 3600.0
    harmless = amps < HARMFUL_PER_HOUR * rated
    return Finding(
        Level.WARN if harmless else Level.DANGER,
        "stores-feed-each-other",
        f"`{giver.name}` pushes {amps:.1f} A into `{taker.name}` on "
        f"{day_and_time(run.when(step))}; joined at unlike voltages, only their leads limit that",
        taker.name,
        taker.span,
        "bring them within 0.1 V of each other before joining them, and fuse each lead "
        "(common practice, no source)",
    )
