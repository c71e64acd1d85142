"""How fast, as ratios that mean the same on any machine: `python tests/bench/ratios.py`.

check    `copperpath check` on the example against importing numpy: at most 8
rules    `copperpath check` on forty devices, less a second, against importing what it needs: at
         most 1.5 (`wire` is told, without a limit)
warm     `copperpath run` with compiled kernels at hand against importing pvlib and numba: at most 3
cold     the first run on a machine, kernels compiled: at most 20 s of processor time, which is
         the time by the clock where nothing else runs (that is told as well)
seasons  100 seasons of `copperpath seasons` against 100 runs of one, prepared anew: at most 1
loop     one run in the numpy twin against the compiled loop (told, without a limit)
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "docs" / "stations" / "heron_bog.station"
OURS = [sys.executable, "-m", "copperpath.cli"]
TIMES = 5


def seconds(command: list[str], *, times: int = TIMES, cache: Path | None = None) -> float:
    """The shortest of several runs of a command [s]."""
    environment = dict(os.environ)
    if cache is not None:
        environment["XDG_CACHE_HOME"] = str(cache)
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        done = subprocess.run(command, env=environment, capture_output=True, check=False)
        taken.append(time.perf_counter() - began)
        if done.returncode not in (0, 1):
            raise SystemExit(done.stderr.decode())
    return min(taken)


def importing(names: str) -> list[str]:
    """The command that imports some libraries and nothing else."""
    return [sys.executable, "-c", f"import {names}"]


def show(name: str, value: float, limit: float | None, unit: str = "") -> bool:
    """One line of the result; True if it keeps its limit."""
    kept = limit is None or value <= limit
    told = "" if limit is None else f"   at most {limit:g}{unit}   {'kept' if kept else 'MISSED'}"
    print(f"{name:<58}{value:8.2f}{unit}{told}", flush=True)
    return kept


def main() -> int:
    """Measure and print; 1 if a limit is missed."""
    check, run = [*OURS, "check", str(EXAMPLE)], [*OURS, "run", str(EXAMPLE)]
    kept = True
    with tempfile.TemporaryDirectory() as folder:
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        clock = seconds(run, times=1, cache=Path(folder))
        cold = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before
        warm = seconds(run, cache=Path(folder))
    kept &= show("first run on a machine, processor", cold, 20.0, " s")
    kept &= show("first run on a machine, by the clock", clock, None, " s")
    kept &= show("check / import numpy", seconds(check) / seconds(importing("numpy")), 8.0)
    kept &= forty_devices_checked()
    kept &= show("warm run / import pvlib, numba", warm / seconds(importing("pvlib, numba")), 3.0)
    kept &= show("many seasons / as many runs", seasons_over_runs(), 1.0)
    kept &= show("numpy twin / compiled loop, one run", twin_over_loop(), None)
    return 0 if kept else 1


def forty_devices_checked() -> bool:
    """Rules and wire sizes of a station of forty devices; True if the rules keep their limit."""
    sys.path.insert(0, str(ROOT / "tests"))
    from support.forty_devices import forty_devices

    kept = True
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "forty.station"
        file.write_text(forty_devices(), encoding="utf-8")
        imports = seconds(importing("numpy, lark, networkx, pint"))
        for command, limit in (("check", 1.5), ("wire", None)):
            ratio = (seconds([*OURS, command, str(file)]) - 1.0) / imports
            kept &= show(f"{command}, forty devices, less 1 s / imports", ratio, limit)
    return kept


def twin_over_loop() -> float:
    """Time of the numpy twin over that of the compiled loop, both with all prepared."""
    from copperpath.network.nodes import make_network
    from copperpath.pipeline import load
    from copperpath.site import make_site
    from copperpath.solver.problem import make_problem
    from copperpath.study.executors import choose_executor

    station = load(EXAMPLE).station
    assert station is not None
    problem = make_problem(station, make_network(station), make_site(station.site, 600.0))
    taken = {}
    for name in ("compiled", "twin"):
        solve = choose_executor(name).solve
        solve(problem)
        began = time.perf_counter()
        solve(problem)
        taken[name] = time.perf_counter() - began
    return taken["twin"] / taken["compiled"]


def seasons_over_runs() -> float:
    """Time of many seasons at once over that of as many runs, each laid out by itself; hours."""
    from dataclasses import replace

    from copperpath.pipeline import load
    from copperpath.record.run import make_run
    from copperpath.station import ClearSky
    from copperpath.study.executors import choose_executor
    from copperpath.study.lay_out import lay_out
    from copperpath.study.seasons import run_seasons
    from copperpath.study.survival import survive

    station = load(EXAMPLE).station
    assert station is not None
    hazy = replace(station.site, sky=ClearSky(0.5, {}), lasts_s=60 * 86400.0)
    station, executor, count = replace(station, site=hazy), choose_executor(), 100

    def many() -> None:
        run_seasons(station, case="base", count=count, seed=1, step_s=3600.0, executor=executor)

    def each() -> None:
        for seed in range(1, count + 1):
            own = replace(hazy, random_days=True, seed=seed)
            problem, _ = lay_out(replace(station, site=own), 3600.0)
            survive(make_run(problem, executor.solve(problem)))

    taken = []
    for work in (many, each):
        work()
        began = time.perf_counter()
        work()
        taken.append(time.perf_counter() - began)
    return taken[0] / taken[1]


if __name__ == "__main__":
    raise SystemExit(main())
