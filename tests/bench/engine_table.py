"""How fast the solver is, as ratios measured in one run: `python tests/bench/engine_table.py`.

a  general loop / hand-written loop, a year of minutes of `ridge_post.station`    at most 2
b  numpy twin / general loop, a step, over two days                               told
c  offers of the source-side zones / general loop, the sky being a file           at most 1
d  200 cases on two threads, all of a case-step / all of a step of the year       at most 0.8
e  general loop, step on 500 nodes / step on 50 nodes, over 500 / 50              at most 1.3
f  peak memory of a year's run                                                    under 1 GB
g  a general circuit simulator's transient / general loop, over one day           told

Each side is warmed up, the two sides take turns, and the shortest time of each counts, for others
may be using the machine. `--json` prints the table as JSON, `--days N` shortens the year.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import numpy as np
from bench.hand_setup import Hand
from bench.problems import ridge_post, tree, varied
from support.simulator import FoundNothing, simulated

from copperpath.netlist.transient import transient
from copperpath.solver import offer_memory
from copperpath.solver.batch import solve_batch
from copperpath.solver.compiled import Prepared, all_concave, prepare, solve_compiled, step_through
from copperpath.solver.offer_memory import no_offers, work_out
from copperpath.solver.solution import first_carry
from copperpath.solver.supplies import supplies
from copperpath.solver.twin import solve_twin

YEAR = 365.0
CASES, CASE_DAYS, CASE_STEP_S = 200, 3.0, 300.0


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table. `value` is None where it cannot be measured yet; `note` says why, or
    what the ratio is made of."""

    letter: str
    name: str
    value: float | None
    goal: float | None
    unit: str
    note: str

    @property
    def kept(self) -> bool:
        """True if there is nothing to complain about."""
        return self.value is None or self.goal is None or self.value <= self.goal


def say(text: str) -> None:
    """Progress, on the error stream so that `--json` stays clean."""
    print(f"  {text} ...", file=sys.stderr, flush=True)


def alternate(*sides: Callable[[], object], times: int = 4) -> list[float]:
    """The shortest time of each side [s], all taking turns; the first turn warms up."""
    shortest = [float("inf")] * len(sides)
    for turn in range(times + 1):
        for place, side in enumerate(sides):
            began = time.perf_counter()
            side()
            taken = time.perf_counter() - began
            if turn:
                shortest[place] = min(shortest[place], taken)
    return shortest


def loop(prepared: Prepared) -> Callable[[], object]:
    """The general loop over a prepared problem."""
    start = first_carry(prepared.problem)
    return lambda: step_through(prepared, start)


def zone_offers(prepared: Prepared) -> Callable[[], object]:
    """The offers of all zones, made anew, and the tables completed that the loop has asked for."""
    made = [no_offers(flat) for flat in prepared.zones]
    network, problem = prepared.problem.network, prepared.problem
    kinds = [all_concave(slots) for slots in problem.zones]

    def run() -> None:
        for flat, offers, concave in zip(prepared.zones, made, kinds, strict=True):
            work_out(flat, offers, concave=concave)
        again = supplies(prepared.zones, made, network.seekers, problem.steps)
        again.complete(np.flatnonzero((prepared.supplies.full > again.full).any(axis=1)))

    return run


def year_rows(days: float) -> tuple[list[Row], float]:
    """Rows a and c, and the seconds a step of the whole solution on one thread."""
    say(f"the ridge post, {days:g} days of minutes: offers")
    prepared = prepare(ridge_post(days))
    steps = prepared.problem.steps
    say("general and hand-written loop in turns, offers")
    general, hand, offers = alternate(
        loop(prepared), Hand(prepared).run, zone_offers(prepared), times=3
    )
    step = [1e6 * taken / steps for taken in (general, hand, offers)]
    note = f"{step[0]:.2f} us a step / {step[1]:.2f} us a step"
    a = Row("a", "general loop / hand-written loop", general / hand, 2.0, "", note)
    note = f"{step[2]:.2f} us a step / {step[0]:.2f} us a step, {len(prepared.zones)} zones"
    c = Row("c", "offers / general loop, sky from a file", offers / general, 1.0, "", note)
    say("the whole solution on one thread")
    problem = ridge_post(days)
    del prepared

    def whole() -> None:
        offer_memory._memory.clear()
        solve_compiled(problem, threads=1)

    (taken,) = alternate(whole, times=1)
    return [a, c], taken / steps


def twin_row() -> Row:
    """Row b: everything that a solution needs but the offers, which the twin makes side by side."""
    say("numpy twin, two days")
    problem = ridge_post(2.0)
    began = time.perf_counter()
    solve_twin(problem)
    twin = time.perf_counter() - began
    (general,) = alternate(loop(prepare(problem)), times=5)
    note = f"{1e6 * twin / problem.steps:.0f} us a step, its own offers among them"
    return Row("b", "numpy twin / general loop", twin / general, None, "", note)


def batch_row(year_step_s: float) -> Row:
    """Row d: offers, loop and panel voltages of many cases at once against those of the year."""
    name = f"{CASES} cases on two threads, case-step / step"
    say(f"{CASES} cases of three days")
    problems = varied(CASES, CASE_DAYS, CASE_STEP_S)

    def run() -> None:
        offer_memory._memory.clear()
        solve_batch(problems, threads=2)

    (taken,) = alternate(run, times=2)
    step = taken / (CASES * problems[0].steps)
    note = (
        f"{1e6 * step:.2f} us a case-step / {1e6 * year_step_s:.2f} us a step, all that a run needs"
    )
    return Row("d", name, step / year_step_s, 0.8, "", note)


def growth_row() -> Row:
    """Row e."""
    say("trees of 50 and 500 nodes")
    small, large = prepare(tree(50, 2.0)), prepare(tree(500, 2.0))
    one, other = alternate(loop(small), loop(large), times=4)
    nodes = [p.main.arrays.nodes for p in (small, large)]
    turns = [step_through(p, first_carry(p.problem))[0].iterations.mean() for p in (small, large)]
    steps = small.problem.steps
    note = (
        f"{1e6 * one / steps:.2f} us and {1e6 * other / steps:.2f} us a step, "
        f"{nodes[0]} and {nodes[1]} nodes as solved, {turns[0]:.2f} and {turns[1]:.2f} turns"
    )
    return Row("e", "500 nodes / 50 nodes, over 10", other / one / 10.0, 1.3, "", note)


def simulator_row() -> Row:
    """Row g: one day of the same station on the simulator's own clock; it takes our offers and
    latches as inputs, so that its side is the easier one."""
    say("the circuit simulator's transient of one day")
    name = "circuit simulator's transient / general loop"
    problem = ridge_post(1.0)
    prepared = prepare(problem)
    text = transient(problem, solve_compiled(problem)).text
    with tempfile.TemporaryDirectory() as folder:
        began = time.perf_counter()
        try:
            found = simulated(text, Path(folder))
        except FoundNothing as trouble:
            return Row("g", name, None, None, "", f"it gave up: {str(trouble).strip()[-60:]}")
        taken = time.perf_counter() - began
    (general,) = alternate(loop(prepared), times=5)
    points = len(next(iter(found.values())))
    note = f"{taken:.2f} s in {points} points / {1e3 * general:.2f} ms in {problem.steps} steps"
    return Row("g", name, taken / general, None, "", note)


YEAR_IN_A_PROCESS = """
import resource, sys
sys.path.insert(0, {tests!r})
from bench.problems import ridge_post
problem = ridge_post({days})
from copperpath.solver.compiled import solve_compiled
solve_compiled(problem)
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
"""The year's run whose memory is measured: in pieces, and all volts kept. Where only summaries are
kept, that call takes the place of `solve_compiled`."""


def memory_row(days: float) -> Row:
    """Row f."""
    say("memory of the year")
    code = YEAR_IN_A_PROCESS.format(tests=str(Path(__file__).parents[1]), days=days)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    name = f"peak memory, {days:g} days"
    if done.returncode:
        return Row("f", name, None, 1.0, " GB", "failed: " + done.stderr.strip().splitlines()[-1])
    gigabytes = int(done.stdout) * 1024 / 1e9
    note = "run in pieces, volts of every minute kept"
    return Row("f", name, gigabytes, 1.0, " GB", note)


def shown(rows: list[Row]) -> str:
    """The table for people."""
    lines = []
    for row in rows:
        value = "     -" if row.value is None else f"{row.value:6.2f}"
        goal = "" if row.goal is None else f"at most {row.goal:g}{row.unit}"
        verdict = "" if row.goal is None or row.value is None else "kept" if row.kept else "MISSED"
        lines.append(
            f"{row.letter}  {row.name:<45}{value}{row.unit:<4}{goal:<14}{verdict:<8}{row.note}"
        )
    return "\n".join(lines)


def main() -> int:
    """Measure and print; 1 if a goal is missed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--json", action="store_true", help="print the table as JSON")
    parser.add_argument("--days", type=float, default=YEAR, help="in place of a year")
    chosen = parser.parse_args()
    rows, step_s = year_rows(chosen.days)
    say(shown(rows))
    for measure in (lambda: memory_row(chosen.days), growth_row, lambda: batch_row(step_s)):
        rows.append(measure())
        say(shown(rows[-1:]))
    rows += [twin_row(), simulator_row()]
    rows.sort(key=lambda row: row.letter)
    if chosen.json:
        load_now = os.getloadavg()[0]
        table = [{**asdict(row), "kept": row.kept} for row in rows]
        print(json.dumps({"days": chosen.days, "load": load_now, "rows": table}, indent=2))
    else:
        print(shown(rows))
    return 0 if all(row.kept for row in rows) else 1


if __name__ == "__main__":
    raise SystemExit(main())
