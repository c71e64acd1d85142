"""The verdict: holds, lasts, runs down or unknown; with time, first load and cause in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from copperpath.network.checks import check_network
from copperpath.record.record import Verdict, WhatIf
from copperpath.record.run import Run
from copperpath.record.times import day_and_time
from copperpath.study.executors import Executor
from copperpath.study.repeat import Afterwards, cycle_steps, drift_per_day, go_on
from copperpath.study.survival import Survival, survive
from copperpath.study.what_ifs import Trial, run_trials

TELLING_SHARE = 0.15
"""A trial that does not turn the verdict still names the cause if it gains this share of the time
that is missing."""

NOTHING_S = 360.0
"""A what-if that moves the end by less than a tenth of an hour changes nothing to speak of."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What the run and the days after it came to."""

    run: Run
    survival: Survival
    cycle: int | None
    afterwards: Afterwards | None
    drift: float | None


def judge(run: Run, executor: Executor, *, look_for_cause: bool = True) -> Verdict:
    """The verdict on a run; solves what-ifs when it runs down, unless the cause is not wanted."""
    survival = survive(run)
    cycle = cycle_steps(run)
    afterwards = None
    ended = survival.end_step is not None or survival.unsolved_step is not None
    if not ended and cycle is not None:
        afterwards = go_on(run, cycle, executor)
    facts = Facts(run, survival, cycle, afterwards, drift_per_day(run, cycle))
    if survival.unsolved_step is not None:
        return _unknown(facts, survival.unsolved_step)
    if survival.end_step is not None:
        return _runs_down(facts, executor if look_for_cause else None)
    if afterwards is not None and afterwards.returns:
        words = "every load is powered throughout, and each day ends as the one before"
        if run.problem.station.site.repeats:
            words = "every load is powered throughout, and the span repeats for ever"
        return _verdict(facts, "holds", None, None, None, words)
    return _lasts(facts)


def _verdict(
    facts: Facts,
    word: str,
    until: datetime | None,
    load: str | None,
    cause: str | None,
    sentence: str,
    what_ifs: tuple[WhatIf, ...] = (),
) -> Verdict:
    survival = facts.survival

    def moment(step: float | None) -> datetime | None:
        return None if step is None else facts.run.when(step)

    return Verdict(
        word,
        until,
        load,
        cause,
        sentence,
        moment(survival.reserve_at),
        moment(survival.short_at),
        facts.drift,
        what_ifs,
    )


def _unknown(facts: Facts, step: int) -> Verdict:
    when = day_and_time(facts.run.when(step))
    return _verdict(
        facts,
        "unknown",
        None,
        None,
        None,
        f"no operating point was found on {when}; nothing is said about the rest",
    )


def _lasts(facts: Facts) -> Verdict:
    end = facts.run.when(facts.run.problem.steps)
    falls = _falls(facts.drift)
    after, until, load = facts.afterwards, None, None
    if after is None:
        more = "" if not falls else f"; {falls}"
        words = (
            f"powered to the end, {day_and_time(end)}{more}; days that do not repeat cannot hold"
        )
        if facts.drift is None:
            words = f"powered to the end, {day_and_time(end)}; too short to tell whether it holds"
    elif after.short_after_s is not None:
        until = end + timedelta(seconds=after.short_after_s)
        load = after.short_load or first_to_go(facts.run)
        words = (
            f"powered to the end, {day_and_time(end)}, but {falls or 'the store falls'}; "
            f"with more such days it would run down on {day_and_time(until)}, `{load}` first"
        )
    else:
        words = (
            f"powered to the end, {day_and_time(end)}; undecided after {after.days} more days, "
            f"{falls or 'drifts'}"
        )
    return _verdict(facts, "lasts", until, load, None, words)


def _falls(drift: float | None) -> str:
    if drift is None:
        return ""
    if drift < -5e-5:
        return f"the store falls by {-drift * 100:.2g} % of its rated charge on the last day"
    return "the store does not fall on the last day"


def _runs_down(facts: Facts, executor: Executor | None) -> Verdict:
    run, survival = facts.run, facts.survival
    step, at = survival.end_step, survival.end_at
    assert step is not None
    assert at is not None
    until = run.when(at)
    load = first_to_go(run, step)
    if step == survival.short_step:
        load = survival.short_load
    station = run.problem.station
    if at == 0.0 and survival.reserve_at == 0.0:
        words = f"`{survival.reserve_store}` starts at or below its reserve"
        return _verdict(facts, "runs down", until, load, words, _how(run, survival, load))
    if load is not None and _wired_to_nothing(run, load):
        how = _how(run, survival, load)
        return _verdict(facts, "runs down", until, load, "nothing gives power to it", how)
    if executor is None:
        return _verdict(facts, "runs down", until, load, None, _how(run, survival, load))
    found = [
        trial
        for trial in run_trials(station, run.problem.site, executor)
        if not trial.latch or happened(run, trial.latch)
    ]
    cause = name_cause(run, at, found)
    what_ifs = tuple(_what_if(run, at, trial) for trial in _ranked(run, found))
    how = _how(run, survival, load)
    return _verdict(facts, "runs down", until, load, cause, how, what_ifs)


def _wired_to_nothing(run: Run, load: str) -> bool:
    findings = check_network(run.problem.station)
    return any(f.rule == "load-without-source" and f.subject == load for f in findings)


def _how(run: Run, survival: Survival, load: str | None) -> str:
    """What happens at the end: a reserve reached, or a load with too few volts."""
    short, reserve = survival.short_step, survival.reserve_step
    if short is None or (reserve is not None and reserve < short):
        first = "" if load is None else f"; give up `{load}` first"
        return f"the reserve of `{survival.reserve_store}` is reached{first}"
    assert load is not None
    device = run.problem.station.device(load)
    assert device.model.powered is not None
    if device.model.bridged is not None:
        return f"`{load}` has emptied its own battery and has no supply"
    terminal, parameter = device.model.powered
    volts = run.terminal_volts(device, terminal)[short]
    needs = float(device.values[parameter])
    # Adding nothing turns -0.0 into 0.0.
    worst = round(float(volts[run.problem.columns.worst]), 2) + 0.0
    mean = volts[run.problem.columns.mean]
    keyed = " when keyed" if mean >= needs else ""
    just = "just under " if round(worst, 2) >= round(needs, 2) else ""
    return f"`{load}` falls to {just}{worst:.2f} V{keyed} and needs {needs:.2f} V"


def first_to_go(run: Run, step: int | None = None) -> str | None:
    """The load that would be given up first, by the priorities in the file, among those that are
    wanted at that step (among all, if none is)."""
    loads = [device for device in run.problem.station.devices if device.kind == "load"]
    wanted = []
    for device in loads:
        demand = run.wanted(device)
        if step is not None and demand is not None and demand[step] > 0.0:
            wanted.append(device)
    counted = [load for load in loads if not load.model.spare]
    return max(wanted or counted, key=lambda load: load.rank).name if counted else None


def _end_s(run: Run, trial: Trial) -> float:
    """When a trial ends [s from the start]; the end of the run if it does not."""
    at = trial.facts.end_at
    return run.since(run.problem.steps if at is None else at)


def name_cause(run: Run, at: float, trials: list[Trial]) -> str:
    """Faults first: one that alone turns the verdict; else those that really happened in the run
    and cost time, or gain a telling share of it, and beside them the size that gains most."""
    ended_s = run.since(at)
    missing_s = max(run.since(run.problem.steps) - ended_s, 1.0)
    gained = {trial.cause: _end_s(run, trial) - ended_s for trial in trials}
    faults = sorted(
        (trial for trial in trials if not trial.sizing), key=lambda trial: -gained[trial.cause]
    )
    if faults and faults[0].facts.end_step is None:
        return faults[0].cause
    telling_s = max(TELLING_SHARE * missing_s, NOTHING_S)
    named = [
        trial.cause
        for trial in faults
        if gained[trial.cause] >= telling_s
        or (gained[trial.cause] >= NOTHING_S and happened(run, trial.latch))
    ]
    sizes = [
        trial
        for trial in trials
        if trial.sizing and (gained[trial.cause] >= telling_s or trial.facts.end_at is None)
    ]
    if sizes:
        named.append(max(sizes, key=lambda trial: gained[trial.cause]).cause)
    return ", and ".join(named) or "more is drawn than the store and the sources give"


def happened(run: Run, latch: str) -> bool:
    """True if a latch of this name was set at any time."""
    first = 0
    for data in run.problem.main:
        for place, state in enumerate(data.states):
            if latch and state.name == latch and run.solution.states[:, first + place].any():
                return True
        first += len(data.states)
    return False


def _ranked(run: Run, trials: list[Trial]) -> list[Trial]:
    return sorted(trials, key=lambda trial: -_end_s(run, trial))


def _what_if(run: Run, at: float, trial: Trial) -> WhatIf:
    end = trial.facts.end_at
    if end is None:
        return WhatIf(trial.remedy, "lasts to the end", True, None)
    gained = run.since(end) - run.since(at)
    if abs(gained) < NOTHING_S:
        return WhatIf(trial.remedy, "changes nothing to speak of", False, gained)
    more = "later" if gained > 0.0 else "earlier"
    words = f"{day_and_time(run.when(end))}, {abs(gained) / 3600.0:.1f} h {more}"
    return WhatIf(trial.remedy, words, False, gained)
