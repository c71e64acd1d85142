"""The first law over a run: each term from its own law, none by subtraction."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.network.circuit import Branch, Circuit
from copperpath.plugin_api import FloatArray
from copperpath.record.record import Ledger
from copperpath.solver.constants import LEAK_S
from copperpath.solver.laws import DeviceFlow
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Outcome, Solution

LEAST_POWER_W = 1e-3
"""The imbalance of a step is compared with its largest power, but not with less than this."""


@dataclass(frozen=True, slots=True)
class BranchFlow:
    """One cable or link over time and columns: volts at its start and end, amps from start to
    end, heat; all (time, column)."""

    branch: Branch
    start_v: FloatArray
    end_v: FloatArray
    amps: FloatArray

    @property
    def heat(self) -> FloatArray:
        """Loss by its own law, current squared times resistance [W]."""
        return self.branch.ohm * self.amps**2


def circuits_with_volts(problem: Problem, solution: Solution) -> list[tuple[Circuit, FloatArray]]:
    """The main circuit and the zones, each with its node voltages (time, column, node)."""
    return [
        (problem.network.main, solution.volts),
        *zip(problem.network.zones, solution.zone_volts, strict=True),
    ]


def branch_flows(problem: Problem, solution: Solution) -> list[BranchFlow]:
    """Every cable and link, main circuit and zones."""
    found = []
    for circuit, volts in circuits_with_volts(problem, solution):
        for branch in circuit.branches:
            start, end = volts[:, :, branch.start], volts[:, :, branch.end]
            found.append(BranchFlow(branch, start, end, (start - end) / branch.ohm))
    return found


@dataclass(frozen=True, slots=True)
class Powers:
    """The terms of the balance at each step and column (time, column) [W]."""

    sources: FloatArray
    loads: FloatArray
    cables: FloatArray
    converters: FloatArray
    storage_loss: FloatArray
    stored: FloatArray
    leak: FloatArray
    given: FloatArray
    """What every source and store gives, each by itself: panels that feed each other in poor
    light give much more than they deliver together."""
    rounding: FloatArray
    """What the last digit of the nodes' voltages is worth across the branches: 13 V at a milliohm
    make 8e-11 W, whatever flows."""

    @property
    def residual(self) -> FloatArray:
        """What the terms miss of zero."""
        return self.sources - (
            self.loads + self.cables + self.converters + self.storage_loss + self.stored + self.leak
        )


def powers(
    problem: Problem, solution: Solution, flows: dict[str, DeviceFlow], branches: list[BranchFlow]
) -> Powers:
    """Sum each term over devices, cables and nodes."""
    nothing = np.zeros(problem.columns.weights.shape)
    terms = {
        name: nothing.copy()
        for name in ("source", "load", "converter", "storage", "stored", "block", "given")
    }
    for device in problem.station.devices:
        flow = flows.get(device.name)
        if flow is None:
            continue
        if device.kind == "source":
            terms["source"] -= flow.taken
        elif device.kind == "load":
            terms["load"] += flow.taken
        else:
            terms[device.kind] += flow.heat
            terms["stored"] += flow.store
        if device.kind in ("source", "storage"):
            terms["given"] += np.maximum(-flow.taken, 0.0)
    heat = sum((flow.heat for flow in branches), nothing)
    leak = nothing.copy()
    for _, volts in circuits_with_volts(problem, solution):
        leak += LEAK_S * np.sum(volts**2, axis=2)
    return Powers(
        terms["source"],
        terms["load"],
        heat + terms["block"],
        terms["converter"],
        terms["storage"],
        terms["stored"],
        leak,
        terms["given"],
        _rounding(nothing, branches),
    )


def _rounding(nothing: FloatArray, branches: list[BranchFlow]) -> FloatArray:
    worth = nothing
    for flow in branches:
        volts = np.maximum(np.abs(flow.start_v), np.abs(flow.end_v))
        worth = worth + 2.0 * np.finfo(np.float64).eps * volts**2 / flow.branch.ohm
    return worth


def make_ledger(problem: Problem, solution: Solution, powers: Powers) -> Ledger:
    """Energies over the run: weighted over the columns, summed over the steps."""
    weights = problem.columns.weights * problem.dt

    def energy(power: FloatArray) -> float:
        return float(np.nansum(np.where(weights != 0.0, weights * power, 0.0)))

    return Ledger(
        energy(powers.sources),
        energy(powers.loads),
        energy(powers.cables),
        energy(powers.converters),
        energy(powers.storage_loss),
        energy(powers.stored),
        energy(powers.leak),
        energy(powers.residual),
        energy(powers.given),
        worst_imbalance(powers, solution),
    )


def worst_imbalance(powers: Powers, solution: Solution) -> float:
    """Largest imbalance of any step and column that was solved, beyond rounding, as a share of
    its largest power."""
    largest = np.maximum.reduce(
        [
            np.abs(term)
            for term in (
                powers.given,
                powers.loads,
                powers.cables,
                powers.converters,
                powers.storage_loss,
                powers.stored,
            )
        ]
    )
    beyond = np.maximum(np.abs(powers.residual) - powers.rounding, 0.0)
    share = beyond / np.maximum(largest, LEAST_POWER_W)
    share = np.where(solution.outcome == Outcome.SKIPPED, np.nan, share)
    return float(np.nanmax(share)) if np.isfinite(share).any() else float("nan")
