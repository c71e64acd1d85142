"""Going on after the stated time: the last day again and again, until a load is short or an
earlier day's state returns.

A day costs milliseconds, so days are simply run; nothing is leapt over or extrapolated.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from copperpath.record.run import Run, charge_state, make_run
from copperpath.solver.problem import Problem, cut
from copperpath.station import ClearSky, SiteSettings
from copperpath.study.executors import Executor
from copperpath.study.survival import survive

DAY_S = 86400.0
RETURNED = 1e-6
"""A day's end is an earlier one's if no state differs by more than this."""
MOST_DAYS = 3 * 365
LONGEST_ALIKE_S = 31 * DAY_S


@dataclass(frozen=True, slots=True)
class Afterwards:
    """What the repeated days came to.

    `returns` True: the state comes back, so it goes on for ever. `short_after_s` is when a load
    is first short or the reserve reached, seconds after the stated end.
    """

    returns: bool
    short_after_s: float | None
    short_load: str | None
    days: int


def cycle_steps(run: Run) -> int | None:
    """Length of the cycle in steps: the whole span if the file says `repeats`, a day if all its
    days are alike (a sky that does not depend on the date), else None."""
    site = run.problem.station.site
    if site.repeats:
        return run.problem.steps
    alike = isinstance(site.sky, ClearSky) and not site.sky.by_date and days_alike(site)
    return _steps_of_last_day(run) if alike else None


def days_alike(site: SiteSettings) -> bool:
    """True if the air and what is said by month leave one day much like the next: by month, over a
    run of no more than a month."""
    if site.air_file is not None or site.air_spread_k > 0.0 or site.random_days:
        return False
    light = isinstance(site.sky, ClearSky) and site.sky.by_month
    covers = any(cover.by_month for cover in site.covers)
    monthly = light or covers or site.air_by_month or site.ground_by_month
    return not monthly or site.lasts_s <= LONGEST_ALIKE_S


def _steps_of_last_day(run: Run) -> int | None:
    """How many steps the last day has; None if the run is shorter or no step begins with it."""
    time_s, dt_s = run.problem.site.time_s, run.dt_s
    begins = time_s[-1] + dt_s[-1] - DAY_S
    place = int(np.argmin(np.abs(time_s - begins)))
    return len(time_s) - place if abs(time_s[place] - begins) < 1e-3 else None


def go_on(run: Run, cycle: int, executor: Executor) -> Afterwards:
    """Repeat the last cycle of a run from its end."""
    day = last_cycle(run.problem, cycle)
    stepper = executor.stepper(day)
    carry = run.solution.carry
    seen = [run.solution.states[-1 - cycle], carry.states]
    cycle_s = float(day.dt_s.sum())
    most = max(1, round(MOST_DAYS * DAY_S / cycle_s))
    for count in range(most):
        solution = stepper(carry)
        facts = survive(make_run(day, solution))
        if facts.unsolved_step is not None:
            return Afterwards(False, None, None, count + 1)
        if facts.end_at is not None:
            after = count * cycle_s + make_run(day, solution).since(facts.end_at)
            return Afterwards(False, after, facts.short_load, count + 1)
        carry = solution.carry
        if any(np.abs(carry.states - earlier).max(initial=0.0) < RETURNED for earlier in seen):
            return Afterwards(True, None, None, count + 1)
        seen.append(carry.states)
    return Afterwards(False, None, None, most)


def last_cycle(problem: Problem, cycle: int) -> Problem:
    """The problem cut to the drives of its last cycle."""

    return cut(problem, slice(-cycle, None))


def drift_per_day(run: Run, cycle: int | None) -> float | None:
    """Change of the stores' charge over the last cycle, a day [share of rated charge]: the
    largest loss of any store, or the smallest gain."""
    span = cycle or _steps_of_last_day(run)
    if span is None:
        return None
    days = float(run.dt_s[-span:].sum()) / DAY_S
    drifts = []
    for device in run.problem.station.devices:
        name = charge_state(device)
        charge = run.state(device.name, name) if name else None
        if charge is not None:
            drifts.append(float(charge[-1] - charge[-1 - span]) / days)
    return min(drifts) if drifts else None
