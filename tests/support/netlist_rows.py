"""Our operating points beside those of a circuit simulator and of general root finding."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from support.equations import moments, volts_by_name
from support.many_points import STABLE_S, Equations
from support.simulator import simulated
from support.two_hundred import Case

from copperpath.netlist.circuit_lines import Names
from copperpath.netlist.operating_point import operating_point
from copperpath.network.circuit import Circuit
from copperpath.plugin_api import FloatArray
from copperpath.record.run import Flows
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.problem import SlotData

NEAR = 1e-6
"""Share of the largest value, of a circuit, by which two values may differ."""
LEAST_V = 1e-9
LEAST_A = 5e-9
"""Where all values are smaller than a thousand of these, so much instead: our search ends where
a nanovolt no longer moves, and at the very corner of a diode's curve that is worth 4 nA."""
NUDGE_V = 0.002
FAR_V = 13.0


@dataclass(frozen=True)
class Pair:
    """Values of one circuit, ours and theirs, in one order."""

    ours: FloatArray
    theirs: FloatArray
    least: float

    @property
    def apart(self) -> float:
        """The largest difference as a share of the largest value."""
        largest = max(float(np.abs(self.ours).max(initial=0.0)), self.least / NEAR)
        return float(np.abs(self.ours - self.theirs).max(initial=0.0)) / largest


@dataclass(frozen=True)
class Simulated:
    """A case as the simulator sees it: circuits in the order main part, zones."""

    volts: tuple[Pair, ...]
    amps: tuple[Pair, ...]
    watts: tuple[Pair, ...]
    """For each zone whose port is held: what the controller takes, what comes out there."""

    @property
    def volts_apart(self) -> float:
        return max(pair.apart for pair in self.volts)

    @property
    def amps_apart(self) -> float:
        return max(pair.apart for pair in self.amps)

    @property
    def watts_apart(self) -> float:
        return max((pair.apart for pair in self.watts), default=0.0)


def simulate(case: Case, folder: Path, *, rounded: bool = False) -> Simulated:
    """Export a case, simulate it and put the two side by side.

    `rounded` lets the simulator begin at voltages rounded to a tenth of a volt, so that it has
    to search.
    """
    problem, solution, step, column = case.problem, case.solution, case.step, case.column
    netlist = operating_point(problem, solution, step, column, opened=case.opened)
    text = netlist.text
    if rounded:
        text = re.sub(
            r"(\.nodeset \S+=)(\S+)", lambda found: f"{found[1]}{float(found[2]):.1f}", text
        )
    found = simulated(text, folder)
    network, flow = problem.network, Flows(problem, solution)
    volts, amps, watts = [], [], []
    circuits = [(netlist.main, network.main, problem.main, solution.volts)]
    circuits += zip(netlist.zones, network.zones, problem.zones, solution.zone_volts, strict=True)
    for names, circuit, slots, over_time in circuits:
        here = over_time[step, column]
        volts.append(Pair(here, _values(found, [f"v({name})" for name in names.nodes]), LEAST_V))
        amps.append(_amps(names, circuit, slots, here, flow, found, (step, column)))
    for zone, (names, circuit) in enumerate(zip(netlist.zones, network.zones, strict=True)):
        if names.ports:
            seekers = [k for k, (at, _) in enumerate(network.seekers) if at == zone]
            taken = sum(float(solution.watts[step, column, k]) for k in seekers)
            ports = zip(names.ports, circuit.ports, strict=True)
            given = sum(
                found[f"v({names.nodes[port]})"] * found[f"i({source})"] for source, port in ports
            )
            assert solution.points is not None
            most = sum(float(solution.points[step, k, OFFER_POINTS]) for k in seekers)
            watts.append(Pair(np.array([taken, most]), np.append(given, most), LEAST_A))
    return Simulated(tuple(volts), tuple(amps), tuple(watts))


def _amps(
    names: Names,
    circuit: Circuit,
    slots: tuple[SlotData, ...],
    volts: FloatArray,
    flow: Flows,
    found: dict[str, FloatArray],
    at: tuple[int, int],
) -> Pair:
    ours = [(volts[b.start] - volts[b.end]) / b.ohm for b in circuit.branches]
    sources = list(names.resistors)
    for data, named in zip(slots, names.sources, strict=True):
        if named:
            ours += [float(amps[at]) for amps in flow[data.slot.device.name].amps]
            sources += named
    return Pair(np.array(ours), _values(found, [f"i(@{name}[i])" for name in sources]), LEAST_A)


def _values(found: dict[str, FloatArray], names: list[str]) -> FloatArray:
    return np.array([found[name][0] for name in names])


@dataclass(frozen=True)
class Roots:
    """What separately written equations and general root finding say of a case.

    Attributes
    ----------
    left_a : float
        Largest current left over at a node, panel sides included [A].
    eigenvalue : float
        Lowest of the slopes at our point [S].
    near, far : str
        Where root finding ends that begins within a few thousandths of a volt of our point, or at
        13 V everywhere: "ours"; "lower", a stable point no node of which is above ours;
        "other", any other stable point; "unstable"; or "none".
    """

    left_a: float
    eigenvalue: float
    near: str
    far: str


def roots(case: Case) -> Roots:
    """Look at a case with equations written apart from the solver."""
    station = case.problem.station
    moment = moments(case.problem, case.solution, case.step, case.column)
    main, whole = volts_by_name(case.problem, case.solution, case.step, case.column)
    off = {case.problem.main[slot].slot.device.name for slot in case.opened}
    everywhere = Equations(station, moment, list(whole), off)
    left = np.abs(everywhere.leaving(np.array(list(whole.values()))[:, None])).max()
    equations, ours = Equations(station, moment, list(main), off), np.array(list(main.values()))
    nudge = np.random.default_rng([case.number, 13]).normal(0.0, NUDGE_V, len(ours))
    return Roots(
        float(left),
        equations.lowest_eigenvalue(ours),
        _ends(equations, ours, ours + nudge),
        _ends(equations, ours, np.full(len(ours), FAR_V)),
    )


def _ends(equations: Equations, ours: FloatArray, start: FloatArray) -> str:
    theirs = equations.root_from(start)
    if theirs is None:
        return "none"
    if Pair(ours, theirs, LEAST_V).apart <= NEAR:
        return "ours"
    if equations.lowest_eigenvalue(theirs) < STABLE_S:
        return "unstable"
    above = float((theirs - ours).max())
    return "lower" if above <= NEAR * np.abs(ours).max() + LEAST_V else "other"
