"""What uncertain values do to the verdict: each moved to its ends alone, then all together.

The unfavourable end of a value is that at which a load is short or the reserve is reached earlier;
where neither end decides that, at which the lowest charge is lower, then the charge at the end,
then the volts that the loads have to spare. For n values 2n + 2 runs beside the expected one.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from copperpath.network.nodes import make_network
from copperpath.network.refused import NetworkRefused, refuse_unsolvable
from copperpath.plugin_api import ParameterProblem
from copperpath.quantities.show import three_digits
from copperpath.record.figures import powered_steps
from copperpath.record.record import Band, BandEnd, Effect
from copperpath.record.run import Run, charge_state, make_run
from copperpath.record.times import day_and_time
from copperpath.record.traces import make_traces
from copperpath.solver.problem import Problem, make_problem
from copperpath.solver.solution import Solution
from copperpath.station import Device, Station, UncertainValue
from copperpath.study.executors import Executor
from copperpath.study.keying_checks import check_keying
from copperpath.study.requirements import Evidence, judge_requirement
from copperpath.study.survival import survive
from copperpath.study.verdict import judge

SAME = (1.0, 1e-6, 1e-6, 1e-4)
"""Differences of end [s], lowest charge, charge at the end and volts that count as none."""

Ends = Mapping[UncertainValue, Any]
"""What some of the uncertain values are taken as."""


@dataclass(frozen=True, slots=True)
class Merit:
    """How well a run did; the first figure that differs decides.

    `end_s` is when a load is first short or a reserve reached [s], infinite if never;
    `spare_v` the least that any load has above its least voltage while it is wanted [V].
    """

    end_s: float
    lowest_charge: float
    end_charge: float
    spare_v: float
    words: str


def find_band(run: Run, executor: Executor, say: Callable[[str], None]) -> Band | None:
    """The band around an expected run; None if its station has no uncertain value.

    Raises
    ------
    NetworkRefused
        If the station cannot be solved at an end.
    """
    values = run.problem.station.uncertain
    if not values:
        return None
    tries: list[Ends] = [{each: end} for each in values for end in (each.low, each.high)]
    whole = len(tries) + 2
    say(f"uncertain values: {whole} runs")
    counted = _Counter(say, whole)
    problems = [_problem_at(run.problem, ends) for ends in tries]
    found = executor.each(
        problems, lambda problem, solved: counted(merit_of(make_run(problem, solved)))
    )
    expected = merit_of(run)
    effects: list[Effect] = []
    unfavourable: dict[UncertainValue, Any] = {}
    favourable: dict[UncertainValue, Any] = {}
    for value, low, high in zip(values, found[::2], found[1::2], strict=True):
        ranked = _ranked([("low", low), ("middle", expected), ("high", high)])
        worst, best = ranked[0], ranked[-1]
        effects.append(_effect(value, worst, best, low, high, run))
        for chosen, end in ((unfavourable, worst[0]), (favourable, best[0])):
            if end != "middle":
                chosen[value] = value.low if end == "low" else value.high
    effects.sort(key=lambda each: (-each.moved_s, -each.moved_charge, -each.moved_v))
    try:
        together = [_problem_at(run.problem, ends) for ends in (unfavourable, favourable)]
    except ParameterProblem as problem:
        return Band(None, None, tuple(effects), len(tries) + 1, problem.message)
    low_end, high_end = executor.each(
        together, lambda problem, solved: counted(_end_of(problem, solved, executor))
    )
    return Band(low_end, high_end, tuple(effects), whole + 1)


class _Counter:
    """Tells how many of the runs are done, from whatever thread they end on."""

    def __init__(self, say: Callable[[str], None], whole: int) -> None:
        self._say, self._whole, self._done = say, whole, 0
        self._counting = threading.Lock()

    def __call__(self, made: Any) -> Any:
        with self._counting:
            self._done += 1
            self._say(f"uncertain values: {self._done} of {self._whole} runs")
        return made


# ---- stations at the ends -------------------------------------------------------------------


def station_at(station: Station, ends: Ends) -> Station:
    """The station with some of its uncertain values at an end.

    Raises
    ------
    ParameterProblem
        If the values do not fit each other.
    """
    changes: dict[str, dict[str, Any]] = {}
    for value, end in ends.items():
        for name in value.devices:
            changes.setdefault(name, {})[value.parameter] = end
    devices = tuple(
        _device_at(device, changes[device.name]) if device.name in changes else device
        for device in station.devices
    )
    return replace(station, devices=devices)


def _device_at(device: Device, changes: Mapping[str, Any]) -> Device:
    values = {**device.values, **changes}
    with np.errstate(all="ignore"):
        derived = device.model.derive(values)
    own = {name: float(derived[name]) for name in device.model.derived}
    return replace(device, values={**values, **own})


def _problem_at(problem: Problem, ends: Ends) -> Problem:
    """The problem of the station at these ends, over the same steps."""
    station = station_at(problem.station, ends)
    made = make_problem(station, make_network(station), problem.site)
    try:
        refuse_unsolvable(check_keying(made))
    except NetworkRefused as refused:
        where = "with uncertain values at one end: "
        raise NetworkRefused(
            tuple(replace(each, message=where + each.message) for each in refused.findings)
        ) from refused
    return made


def _end_of(problem: Problem, solved: Solution, executor: Executor) -> BandEnd:
    run = make_run(problem, solved)
    verdict = judge(run, executor, look_for_cause=False)
    evidence = Evidence(run, verdict, make_traces(run))
    asked = problem.station.requirements
    return BandEnd(verdict, tuple(judge_requirement(each, evidence) for each in asked))


# ---- better and worse -----------------------------------------------------------------------


def merit_of(run: Run) -> Merit:
    """How well a run did."""
    facts = survive(run)
    end = facts.end_at
    if facts.unsolved_step is not None:
        end = float(facts.unsolved_step) if end is None else min(end, facts.unsolved_step)
    end_s = math.inf if end is None else run.since(end)
    lowest, last = _charges(run)
    spare = _spare(run)
    if end is not None:
        words = f"runs down {day_and_time(run.when(end))}"
    elif math.isfinite(lowest):
        words = f"lowest charge {100.0 * lowest:.1f} %"
    else:
        words = f"{three_digits(spare)} V to spare"
    return Merit(end_s, lowest, last, spare, words)


def _charges(run: Run) -> tuple[float, float]:
    """The lowest charge of any store, and the lowest at the end; infinite without a store."""
    lowest, last = math.inf, math.inf
    for device in run.problem.station.devices:
        name = charge_state(device)
        charge = run.state(device.name, name) if name else None
        if charge is not None:
            lowest, last = min(lowest, float(charge.min())), min(last, float(charge[-1]))
    return lowest, last


def _spare(run: Run) -> float:
    spare = math.inf
    for device in run.problem.station.devices:
        steps = powered_steps(run, device)
        if steps is None or device.model.powered is None or not steps[0].any():
            continue
        terminal, parameter = device.model.powered
        volts = run.worst(run.terminal_volts(device, terminal))[steps[0]]
        if np.isfinite(volts).any():
            spare = min(spare, float(np.nanmin(volts)) - float(device.values[parameter]))
    return spare


def _ranked(some: Sequence[tuple[str, Merit]]) -> list[tuple[str, Merit]]:
    """The worst first; the middle first and last of those that are alike."""
    worst = best = next(each for each in some if each[0] == "middle")
    for each in some:
        worst = each if _compare(each[1], worst[1]) < 0 else worst
        best = each if _compare(each[1], best[1]) > 0 else best
    return [worst, best]


def _compare(one: Merit, other: Merit) -> int:
    """Below zero if the first is worse."""
    pairs = zip(_figures(one), _figures(other), SAME, strict=True)
    for mine, theirs, same in pairs:
        if mine != theirs and abs(mine - theirs) > same:
            return -1 if mine < theirs else 1
    return 0


def _figures(merit: Merit) -> tuple[float, float, float, float]:
    return merit.end_s, merit.lowest_charge, merit.end_charge, merit.spare_v


def _effect(
    value: UncertainValue,
    worst: tuple[str, Merit],
    best: tuple[str, Merit],
    low: Merit,
    high: Merit,
    run: Run,
) -> Effect:
    until_s = run.since(run.problem.steps)
    both = [merit for _, merit in (worst, best)]
    moved_s = abs(_moved(*(min(merit.end_s, until_s) for merit in both)))
    return Effect(
        value.devices,
        value.text,
        value.span,
        "" if worst[0] == best[0] else worst[0],
        low.words,
        high.words,
        moved_s if moved_s > SAME[0] else 0.0,
        abs(_moved(*(merit.lowest_charge for merit in both))),
        abs(_moved(*(merit.spare_v for merit in both))),
    )


def _moved(one: float, other: float) -> float:
    return 0.0 if one == other else other - one
