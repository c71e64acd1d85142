"""From a station to the problem of its run: checks, network, site, drives and key states."""

from __future__ import annotations

from copperpath.finding import Finding
from copperpath.network.checks import check_network
from copperpath.network.nodes import make_network
from copperpath.network.refused import refuse_unsolvable
from copperpath.site import SiteProblem, station_site
from copperpath.solver.problem import Problem, make_problem
from copperpath.station import Station
from copperpath.study.keying_checks import check_keying

MOST_BYTES = 8_000_000_000
"""Voltages and drives of a run may take this much memory."""


def lay_out(station: Station, step_s: float) -> tuple[Problem, tuple[Finding, ...]]:
    """The problem, and what its wiring has to say.

    Raises
    ------
    NetworkRefused
        If this version cannot solve it.
    SiteProblem
        If its site cannot be worked out, or its figures would not fit in memory.
    """
    findings = check_network(station)
    refuse_unsolvable(findings)
    problem = make_problem(station, make_network(station), station_site(station, step_s))
    refuse_unsolvable(check_keying(problem))
    needed = bytes_of(problem)
    if needed > MOST_BYTES:
        steps, columns = problem.columns.weights.shape
        raise SiteProblem(
            f"{steps} steps of {columns} key states each would take {needed / 1e9:.0f} GB of "
            "memory",
            f"at most {MOST_BYTES / 1e9:.0f} GB are taken; run it with a longer step or for less "
            "time",
        )
    return problem, findings


def bytes_of(problem: Problem) -> int:
    """About how much memory the figures of a run take."""
    steps, columns = problem.columns.weights.shape
    circuits = (problem.network.main, *problem.network.zones)
    nodes = sum(len(circuit.merged.nodes) for circuit in circuits)
    slots = (*problem.main, *(data for zone in problem.zones for data in zone))
    drives = sum(len(data.drives) for data in slots)
    states = sum(len(data.states) for data in problem.main)
    return int(8 * steps * (columns * (nodes + 10) + drives + states))
