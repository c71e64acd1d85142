"""Requirements of the file against a run, each with its figure, limit, time and margin."""

from __future__ import annotations

import operator
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.quantities import read_unit
from copperpath.quantities.show import three_digits
from copperpath.record.figures import powered_steps
from copperpath.record.record import RequirementResult, Trace, Verdict
from copperpath.record.run import Run
from copperpath.record.times import day_and_time
from copperpath.required import (
    ComparisonRequirement,
    PoweredRequirement,
    Requirement,
    VerdictRequirement,
)
from copperpath.solver.solution import Outcome

COMPARE = {"<": operator.lt, "<=": operator.le, ">": operator.gt, ">=": operator.ge}
SI_UNITS = {
    "voltage": "V",
    "mean_voltage": "V",
    "current": "A",
    "power": "W",
    "energy": "J",
    "mass": "kg",
    "charge": "",
}


@dataclass(frozen=True, slots=True)
class Evidence:
    """What requirements are held against."""

    run: Run
    verdict: Verdict
    traces: Mapping[str, Trace]


def judge_requirement(requirement: Requirement, evidence: Evidence) -> RequirementResult:
    """What became of one requirement."""
    if isinstance(requirement, PoweredRequirement):
        return _powered(requirement, evidence)
    if isinstance(requirement, VerdictRequirement):
        met = evidence.verdict.word == requirement.word
        words = f"the verdict is `{evidence.verdict.word}`"
        return RequirementResult(
            requirement.text, requirement.span, met, None, None, "", None, words
        )
    if requirement.quantity == "mass":
        return _mass(requirement, evidence)
    return _recorded(requirement, evidence)


def _powered(requirement: PoweredRequirement, evidence: Evidence) -> RequirementResult:
    run = evidence.run
    steps = powered_steps(run, run.problem.station.device(requirement.load))
    span, text = requirement.span, requirement.text
    if steps is None:
        words = f"`{requirement.load}` does not say when it counts as powered"
        return RequirementResult(text, span, None, None, None, "s", None, words)
    wanted, powered = steps
    unsolved = (run.solution.outcome == Outcome.NOT_SOLVED).any(axis=1)
    short = wanted & ~powered & ~unsolved
    until = _steps_asked(requirement, run)
    if until > len(short):
        words = "asks for longer than the station `lasts`"
        return RequirementResult(text, span, None, None, requirement.duration_s, "s", None, words)
    seconds = float(run.dt_s[:until] @ powered[:until])
    if short[:until].any():
        first = run.when(int(np.argmax(short)))
        missing = float(run.dt_s[:until] @ short[:until]) / 3600.0
        words = f"short from {day_and_time(first)}, {missing:.1f} h missing"
        margin = -3600.0 * missing
        return RequirementResult(text, span, False, seconds, None, "s", first, words, margin)
    if unsolved[:until].any():
        when = run.when(int(np.argmax(unsolved)))
        return RequirementResult(text, span, None, None, None, "s", when, _no_figures(when))
    words = f"powered for all of its {seconds / 3600.0:.1f} h"
    return RequirementResult(text, span, True, seconds, None, "s", None, words)


def _steps_asked(requirement: PoweredRequirement, run: Run) -> int:
    """How many steps from the start it speaks of; a step begun counts."""
    if requirement.duration_s is None:
        return run.problem.steps
    asked, since = requirement.duration_s, run.problem.site.time_s - run.problem.site.time_s[0]
    if asked > since[-1] + run.dt_s[-1] + 1e-6:
        return run.problem.steps + 1
    return int(np.searchsorted(since, asked - 1e-6))


def _no_figures(when: datetime) -> str:
    return f"no operating point was found on {day_and_time(when)}, so it is not known"


def _mass(requirement: ComparisonRequirement, evidence: Evidence) -> RequirementResult:
    station = evidence.run.problem.station
    total, missing = station.known_mass_kg, station.without_mass
    met: bool | None = bool(COMPARE[requirement.operator](total, requirement.limit))
    kind = "margin" if met else "misses by"
    unit = requirement.unit
    words = f"{_in(total, unit)}, {kind} {_in(abs(requirement.limit - total), unit)}"
    # What has no mass can only add: too much is too much, and enough is enough.
    upper = requirement.operator in ("<", "<=")
    if missing and met == upper:
        met = None
        number = "item has" if len(missing) == 1 else "items have"
        names = ", ".join(f"`{name}`" for name in missing[:3])
        words = f"at least {_in(total, unit)}; {len(missing)} {number} no mass ({names})"
    margin = requirement.limit - total if upper else total - requirement.limit
    return RequirementResult(
        requirement.text,
        requirement.span,
        met,
        total,
        requirement.limit,
        "kg",
        None,
        words,
        margin,
    )


def _recorded(requirement: ComparisonRequirement, evidence: Evidence) -> RequirementResult:
    upper = requirement.operator in ("<", "<=")
    values = _values(requirement, evidence, upper)
    span, limit = requirement.span, requirement.limit
    unit = SI_UNITS[requirement.quantity]
    if values is None or not np.isfinite(values).any():
        words = f"nothing is recorded as `{requirement.device}.{requirement.quantity}`"
        return RequirementResult(requirement.text, span, None, None, limit, unit, None, words)
    place = int(np.nanargmax(values)) if upper else int(np.nanargmin(values))
    value = float(values[place])
    met = bool(COMPARE[requirement.operator](value, limit))
    unsolved = (evidence.run.solution.outcome == Outcome.NOT_SOLVED).any(axis=1)
    if met and unsolved.any():
        first = evidence.run.when(int(np.argmax(unsolved)))
        words = _no_figures(first)
        return RequirementResult(requirement.text, span, None, value, limit, unit, first, words)
    when = None if len(values) == 1 else evidence.run.when(place)
    which = "" if requirement.quantity == "energy" else "highest" if upper else "lowest"
    words = _words(value, limit, requirement.unit, which, met)
    if when is not None:
        words += f", {day_and_time(when)}"
    margin = limit - value if upper else value - limit
    return RequirementResult(requirement.text, span, met, value, limit, unit, when, words, margin)


def _values(
    requirement: ComparisonRequirement, evidence: Evidence, upper: bool
) -> FloatArray | None:
    """The recorded quantity: for a voltage the worst instant, counted while the load is wanted."""
    run = evidence.run
    assert requirement.device is not None
    device = run.problem.station.device(requirement.device)
    if requirement.quantity == "energy":
        power = evidence.traces.get(f"{device.name}.power")
        return None if power is None else np.array([run.energy(power.values)])
    if requirement.quantity == "voltage" and upper:
        volts = run.terminal_volts(device)
        possible = run.problem.columns.weights > 0.0
        possible[:, run.problem.columns.worst :] = True
        return np.asarray(np.where(possible, volts, -np.inf).max(axis=1))
    trace = evidence.traces.get(f"{device.name}.{requirement.quantity}")
    if trace is None:
        return None
    wanted = run.wanted(device)
    if wanted is None or upper or "voltage" not in requirement.quantity:
        return trace.values
    return np.where(wanted > 0.0, trace.values, np.nan)


def _words(value: float, limit: float, unit: str, which: str, met: bool) -> str:
    kind = "margin" if met else "misses by"
    return f"{which} {_in(value, unit)}, {kind} {_in(abs(value - limit), unit)}".strip()


def _in(value: float, unit: str) -> str:
    """An SI value in the unit in which its requirement is written."""
    number = value / read_unit(unit).factor
    places = {"V": 2, "%": 1}.get(unit)
    return f"{three_digits(number) if places is None else f'{number:.{places}f}'} {unit}"
