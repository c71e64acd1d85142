"""One case: a run with its verdict, figures, requirements and findings."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from copperpath.finding import Finding
from copperpath.record.energy import make_ledger
from copperpath.record.figures import cable_figures, device_figures
from copperpath.record.record import Case
from copperpath.record.run import Run
from copperpath.record.side_traces import make_account, make_marks
from copperpath.record.traces import make_traces
from copperpath.required import BASE
from copperpath.solver.solution import Outcome
from copperpath.study import record_low
from copperpath.study.corners import high_corner, low_corner
from copperpath.study.executors import Executor
from copperpath.study.provenance import provenance
from copperpath.study.requirements import Evidence, judge_requirement
from copperpath.study.run_findings import find_in_run
from copperpath.study.short_delays import short_delays
from copperpath.study.verdict import judge


def make_case(
    run: Run,
    executor: Executor,
    structural: Sequence[Finding] = (),
    *,
    name: str = BASE,
    changes: tuple[str, ...] = (),
    look_for_cause: bool = True,
) -> Case:
    """Everything that is said of a run; `structural` is what its wiring has to say. The cause of
    running down is found by further runs, if it is looked for."""
    station = run.problem.station
    traces = make_traces(run)
    verdict = judge(run, executor, look_for_cause=look_for_cause)
    low, high = low_corner(run.problem), high_corner(run.problem)
    evidence = Evidence(run, verdict, traces)
    kinds, counts = np.unique(run.solution.outcome, return_counts=True)
    outcomes = {
        Outcome(int(kind)).words: int(count) for kind, count in zip(kinds, counts, strict=True)
    }
    return Case(
        name,
        verdict,
        make_ledger(run.problem, run.solution, run.powers),
        tuple(device_figures(run, device) for device in station.devices),
        tuple(cable_figures(run, cable) for cable in station.cables),
        tuple(judge_requirement(each, evidence) for each in station.requirements),
        low,
        high,
        traces,
        outcomes,
        station,
        run.problem.site.time_s,
        (*structural, *find_in_run(run, low, high)),
        (*station.assumptions, *short_delays(run.problem), *record_low.note(run.problem)),
        provenance(run),
        changes,
        make_account(run),
        make_marks(run),
    )
