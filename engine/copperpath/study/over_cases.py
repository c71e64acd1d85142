"""Every case of a station run, and what became of each requirement over its cases."""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection, Sequence
from dataclasses import replace

from copperpath.finding import Finding
from copperpath.network.refused import NetworkRefused
from copperpath.record.record import Band, Case, Required, RequirementResult
from copperpath.record.run import make_run
from copperpath.required import Requirement
from copperpath.site import SiteProblem
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Solution
from copperpath.station import StationCase
from copperpath.study.case import make_case
from copperpath.study.executors import Executor
from copperpath.study.lay_out import MOST_BYTES, bytes_of, lay_out

BADNESS = {False: 0, None: 1, True: 2}
"""A requirement that is not met is worse than one of which nothing is known."""


def run_cases(
    cases: Sequence[StationCase],
    step_s: float,
    executor: Executor,
    say: Callable[[str], None],
    causes_of: Collection[str] | None = None,
) -> list[Case]:
    """Every case, side by side on threads; causes are looked for in some cases, or in all (None).

    Raises
    ------
    NetworkRefused, SiteProblem
        As for the station itself; the words name the case.
    """
    if not cases:
        return []
    say(f"laying out {_count(len(cases))}")
    laid_out = [_laid_out(each, step_s) for each in cases]
    needed = sum(bytes_of(problem) for problem, _ in laid_out)
    if needed > MOST_BYTES:
        raise SiteProblem(
            f"the figures of {_count(len(cases))} would take {needed / 1e9:.0f} GB of memory",
            f"at most {MOST_BYTES / 1e9:.0f} GB are taken; run it with a longer step, for less "
            "time or with fewer cases",
        )
    # A problem holds its station, which is one of a case alone.
    by_station = {
        id(problem.station): (each, findings)
        for each, (problem, findings) in zip(cases, laid_out, strict=True)
    }
    done = 0
    counting = threading.Lock()

    def take(problem: Problem, solution: Solution) -> Case:
        nonlocal done
        case, findings = by_station[id(problem.station)]
        made = make_case(
            make_run(problem, solution),
            executor,
            findings,
            name=case.title,
            changes=case.changes,
            look_for_cause=causes_of is None or case.title in causes_of,
        )
        with counting:
            done += 1
            say(f"{done} of {_count(len(cases))} run")
        return made

    say(f"running {_count(len(cases))}")
    return executor.each([problem for problem, _ in laid_out], take)


def _count(number: int) -> str:
    return "1 case" if number == 1 else f"{number} cases"


def _laid_out(case: StationCase, step_s: float) -> tuple[Problem, tuple[Finding, ...]]:
    where = f'in case "{case.title}": '
    try:
        return lay_out(case.station, step_s)
    except NetworkRefused as problem:
        found = tuple(replace(each, message=where + each.message) for each in problem.findings)
        raise NetworkRefused(found) from problem
    except SiteProblem as problem:
        raise SiteProblem(where + problem.message, problem.help) from problem


# ---- requirements ---------------------------------------------------------------------------


def over_cases(cases: Sequence[Case], band: Band | None) -> tuple[Required, ...]:
    """Each requirement of the file with its worst case, in the order of the text."""
    gathered: dict[tuple[object, ...], list[tuple[str, RequirementResult]]] = {}
    places: dict[tuple[object, ...], tuple[str, int]] = {}
    at_low: dict[tuple[object, ...], RequirementResult] = {}
    for case in cases:
        for requirement, result in zip(case.station.requirements, case.requirements, strict=True):
            key = _key(requirement)
            gathered.setdefault(key, []).append((case.name, result))
            places.setdefault(key, (requirement.span.source.name, requirement.span.start))
    if band is not None and band.low is not None:
        asked = cases[0].station.requirements
        for requirement, result in zip(asked, band.low.requirements, strict=True):
            at_low[_key(requirement)] = result
    first = cases[0].station.source.name
    order = sorted(gathered, key=lambda key: (places[key][0] != first, places[key][1]))
    return tuple(_required(gathered[key], at_low.get(key)) for key in order)


def _key(requirement: Requirement) -> tuple[object, ...]:
    """What makes a requirement of one case the same as one of another."""
    subject = getattr(requirement, "load", None) or getattr(requirement, "device", None)
    return subject, requirement.text, requirement.span


def _required(
    results: Sequence[tuple[str, RequirementResult]], at_low: RequirementResult | None
) -> Required:
    case, worst = min(results, key=lambda each: _standing(each[1]))
    return Required(
        worst,
        case,
        tuple(name for name, _ in results),
        tuple(name for name, result in results if result.met is not True),
        at_low,
    )


def _standing(result: RequirementResult) -> tuple[int, float]:
    """The least is the worst."""
    return BADNESS[result.met], float("inf") if result.margin is None else result.margin
