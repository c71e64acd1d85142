"""Whole runs for tests: from a station text or a made station to what was computed, kept per
session as several tests look at one run."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from support.networks import problem_of

from copperpath.pipeline import load, load_text
from copperpath.record.energy import make_ledger
from copperpath.record.record import Ledger, Record
from copperpath.record.run import Run, make_run
from copperpath.station import Station
from copperpath.study.executors import choose_executor

STATIONS = Path(__file__).parents[2] / "docs" / "stations"
HERON_BOG = STATIONS / "heron_bog.station"
LARKFELL = STATIONS / "larkfell_spur"


def station_from_file(path: Path) -> Station:
    """A station file that has no mistakes."""
    loaded = load(path)
    assert loaded.station is not None, [each.message for each in loaded.diagnostics]
    return loaded.station


def station_from_text(text: str) -> Station:
    """A station text that has no mistakes."""
    loaded = load_text(text)
    assert loaded.station is not None, [each.message for each in loaded.diagnostics]
    return loaded.station


def solved(station: Station, step_s: float = 60.0, executor: str = "") -> Run:
    """A station solved over its stated time, with no verdict."""
    problem = problem_of(station, step_s)
    return make_run(problem, choose_executor(executor).solve(problem))


def ledger_of(run: Run) -> Ledger:
    """The first-law ledger of a run."""
    return make_ledger(run.problem, run.solution, run.powers)


@cache
def solved_file(path: Path, step_s: float = 60.0) -> Run:
    """The same for a file; kept."""
    return solved(station_from_file(path), step_s)


@cache
def record_of(path: Path, step_s: float = 60.0, causes_of: frozenset[str] | None = None) -> Record:
    """The record of a file, verdict and all; kept. `causes_of`: the cases in which the cause is
    looked for, which takes further runs; all if left out."""
    from copperpath.pipeline import run

    return run(station_from_file(path), step_s=step_s, causes_of=causes_of)
