"""The first law over a run: each term from its own law, none by subtraction."""

from __future__ import annotations

from collections.abc import Mapping
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
    """One cable or link over time and columns, worked out anew at each look: every cable of a
    year of minutes at once would not fit in memory.

    Attributes
    ----------
    branch : Branch
    circuit : Circuit
        It is number `place` of its branches.
    kept : ndarray (time, column, solved node) [V]
    """

    branch: Branch
    circuit: Circuit
    place: int
    kept: FloatArray

    @property
    def start_v(self) -> FloatArray:
        """Volts at its start (time, column)."""
        return self.circuit.spread(self.kept, self.branch.start)

    @property
    def end_v(self) -> FloatArray:
        """Volts at its end (time, column)."""
        return self.circuit.spread(self.kept, self.branch.end)

    @property
    def drop(self) -> FloatArray:
        """Volts from start to end (time, column)."""
        return self.circuit.across(self.kept, self.place)

    @property
    def amps(self) -> FloatArray:
        """Amps from start to end (time, column)."""
        return self.drop / self.branch.ohm

    @property
    def heat(self) -> FloatArray:
        """Loss by its own law, current squared times resistance [W]."""
        return self.branch.ohm * self.amps**2

    @property
    def rounding(self) -> FloatArray:
        """What the last digit of the volts at its ends is worth [W]."""
        merged = self.circuit.merged
        one = np.abs(self.kept[..., merged.across_first[self.place]])
        other = np.abs(self.kept[..., merged.across_second[self.place]])
        share = abs(float(merged.across_share[self.place]))
        worth = 2.0 * np.finfo(np.float64).eps * np.maximum(one, other) ** 2
        return np.asarray(worth * share / self.branch.ohm)


def circuits_with_volts(problem: Problem, solution: Solution) -> list[tuple[Circuit, FloatArray]]:
    """The main circuit and the zones, each with the voltages of its solved nodes."""
    return [
        (problem.network.main, solution.kept),
        *zip(problem.network.zones, solution.zone_kept, strict=True),
    ]


def branch_flows(problem: Problem, solution: Solution) -> list[BranchFlow]:
    """Every cable and link, main circuit and zones."""
    return [
        BranchFlow(branch, circuit, place, kept)
        for circuit, kept in circuits_with_volts(problem, solution)
        for place, branch in enumerate(circuit.branches)
    ]


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
    problem: Problem,
    solution: Solution,
    flows: Mapping[str, DeviceFlow],
    branches: list[BranchFlow],
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
    heat, rounding, leak = terms["block"], nothing.copy(), nothing.copy()
    for branch in branches:
        heat += branch.heat
        rounding += branch.rounding
    for _, kept in circuits_with_volts(problem, solution):
        leak += LEAK_S * np.einsum("tcn,tcn->tc", kept, kept)
    return Powers(
        terms["source"],
        terms["load"],
        heat,
        terms["converter"],
        terms["storage"],
        terms["stored"],
        leak,
        terms["given"],
        rounding,
    )


def make_ledger(problem: Problem, solution: Solution, powers: Powers) -> Ledger:
    """Energies over the run: weighted over the columns, summed over the steps that were solved."""
    known = np.isfinite(powers.residual) & (problem.columns.weights != 0.0)
    weights = np.where(known, problem.columns.weights * problem.dt_s[:, None], 0.0)

    def energy(power: FloatArray) -> float:
        return float(np.sum(np.where(known, weights * power, 0.0)))

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
    largest = np.full_like(powers.given, LEAST_POWER_W)
    for term in (
        powers.given,
        powers.loads,
        powers.cables,
        powers.converters,
        powers.storage_loss,
        powers.stored,
    ):
        np.maximum(largest, np.abs(term), out=largest)
    share = np.abs(powers.residual)
    share -= powers.rounding
    np.maximum(share, 0.0, out=share)
    share /= largest
    share[solution.outcome == Outcome.SKIPPED] = np.nan
    return float(np.nanmax(share)) if np.isfinite(share).any() else float("nan")
