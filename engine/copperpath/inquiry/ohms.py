"""A problem with other resistances in its cables, without working out its shape anew."""

from __future__ import annotations

from dataclasses import replace

from copperpath.network.circuit import LEAST_OHM, Circuit
from copperpath.network.merging import merge
from copperpath.solver.problem import Problem
from copperpath.station import Station


def with_cables_of(problem: Problem, station: Station) -> Problem:
    """The problem of a station that differs from the problem's own in cables' numbers alone."""
    ohms = {cable.name: max(cable.resistance_ohm, LEAST_OHM) for cable in station.cables}
    network = problem.network
    return replace(
        problem,
        station=station,
        network=replace(
            network,
            main=_with_ohms(network.main, ohms),
            zones=tuple(_with_ohms(zone, ohms) for zone in network.zones),
        ),
    )


def _with_ohms(circuit: Circuit, ohms: dict[str, float]) -> Circuit:
    """Nodes are merged by shape, so the same stay; only resistances and shares change."""
    branches = tuple(
        replace(branch, ohm=ohms[branch.owner]) if branch.is_cable else branch
        for branch in circuit.branches
    )
    if branches == circuit.branches:
        return circuit
    kept = {*circuit.ports, *(node for slot in circuit.slots for node in slot.nodes)}
    return replace(circuit, branches=branches, merged=merge(len(circuit.nodes), branches, kept))
