"""A station through many random seasons: how many of them it lasts, and how near it comes.

Every season has the same days of the year with other weather, drawn about the means that the file
gives. Of each only what the answer needs is kept. Not here: how days are drawn (`copperpath.site`).
"""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from math import sqrt

import numpy as np

from copperpath.plugin_api import FloatArray, Schedule
from copperpath.record.figures import powered_steps
from copperpath.record.run import Run, charge_state, make_run
from copperpath.site.random_days import random_words
from copperpath.site.season_site import Seasons, make_seasons
from copperpath.solver.problem import Problem, driven_by
from copperpath.solver.solution import first_carry
from copperpath.station import Station
from copperpath.study.executors import Executor
from copperpath.study.lay_out import lay_out
from copperpath.study.survival import Survival, survive

PERCENTS = (5.0, 25.0, 50.0, 75.0, 95.0)
NINETY_FIVE = 1.959964
"""Standard deviations of a normal variable within which 95 % of it lie."""


@dataclass(frozen=True, slots=True)
class Season:
    """What one season came to.

    Attributes
    ----------
    lasts : bool or None
        Every load is powered whenever it is wanted and no reserve is reached; None where a step
        could not be solved.
    powered : bool
        Every load is powered whenever it is wanted, whatever the reserve.
    first_short, first_reserve : datetime or None
        When a load is first short, and when a reserve is first reached.
    first_load : str or None
        The load that is first short.
    lowest_charge : mapping of str to float
        Of each store, as a share of its rated charge.
    short_s : mapping of str to float
        How long each load is wanted and without power [s].
    """

    seed: int
    lasts: bool | None
    powered: bool
    first_short: datetime | None
    first_reserve: datetime | None
    first_load: str | None
    lowest_charge: Mapping[str, float]
    short_s: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class ManySeasons:
    """All seasons of one station, in the order of their seeds, and how they were obtained."""

    station: Station
    case: str
    step_s: float
    seed: int
    seasons: tuple[Season, ...]
    words: Mapping[str, str]

    @property
    def lasting(self) -> Share:
        """How many last."""
        return share_of(sum(each.lasts is True for each in self.seasons), len(self.seasons))

    @property
    def powered(self) -> Share:
        """In how many every load is powered, the reserve drawn on or not."""
        return share_of(sum(each.powered for each in self.seasons), len(self.seasons))

    @property
    def worst(self) -> Season:
        """The season that comes lowest, by hours without power and then by charge."""

        def badness(each: Season) -> tuple[float, float]:
            return -sum(each.short_s.values()), min(each.lowest_charge.values(), default=0.0)

        return min(self.seasons, key=badness)

    def months(self) -> dict[int, tuple[int, int]]:
        """By month, in the order of the season: in how many seasons a load is first short then, and
        in how many a reserve is first reached."""
        short = Counter(each.first_short.month for each in self.seasons if each.first_short)
        reserve = Counter(each.first_reserve.month for each in self.seasons if each.first_reserve)
        begins = self.station.site.starts.month
        order = sorted({*short, *reserve}, key=lambda month: (month - begins) % 12)
        return {month: (short[month], reserve[month]) for month in order}


@dataclass(frozen=True, slots=True)
class Share:
    """So many of all, and between which shares the true one lies with a confidence of 95 %."""

    count: int
    of: int
    low: float
    high: float

    @property
    def share(self) -> float:
        """Count over all."""
        return self.count / self.of


def share_of(count: int, of: int) -> Share:
    """A share with its uncertainty from drawing so few: the score interval of E. B. Wilson,
    J. American Statistical Association 22 (1927) 209. 8 of 10 may be 49 % to 94 %."""
    z, part = NINETY_FIVE, count / of
    middle = (part + z * z / (2 * of)) / (1 + z * z / of)
    half = z / (1 + z * z / of) * sqrt(part * (1 - part) / of + z * z / (4 * of * of))
    return Share(count, of, max(0.0, middle - half), min(1.0, middle + half))


def percentiles(values: list[float]) -> FloatArray:
    """Those of `PERCENTS`, straight lines between values."""
    found: FloatArray = np.percentile(np.array(values), PERCENTS)
    return found


def run_seasons(
    station: Station,
    *,
    case: str,
    count: int,
    seed: int,
    step_s: float,
    executor: Executor,
    say: Callable[[str], None] = lambda words: None,
) -> ManySeasons:
    """Run a station through seasons with the seeds `seed`, `seed` + 1 and so on.

    Raises
    ------
    SiteProblem
        If its light is measured, or its site cannot be worked out.
    NetworkRefused
        If this version cannot solve its network.
    """
    say("sun and sky")
    problem, _ = lay_out(station, step_s)
    seasons = make_seasons(station.site, step_s, _schedules(station))
    # Filled before threads ask for the same at once.
    driven_by(problem, seasons.site, seasons.season(seed))
    done = 0
    counting = threading.Lock()

    def one(own: int) -> Season:
        nonlocal done
        found = _season(problem, seasons, own, executor)
        with counting:
            done += 1
            say(_bar(done, count))
        return found

    say(f"running {count} seasons")
    found = executor.over(range(seed, seed + count), one)
    words = {
        "weather": random_words(station.site),
        "sky": seasons.site.sky_words,
        "seeds": f"{seed} to {seed + count - 1}",
        "step": f"{step_s:g} s; times are no finer than that",
        "executor": executor.name,
    }
    return ManySeasons(station, case, step_s, seed, tuple(found), words)


def _schedules(station: Station) -> list[Schedule]:
    values = (value for device in station.devices for value in device.values.values())
    return [value for value in values if isinstance(value, Schedule)]


def _bar(done: int, count: int) -> str:
    full = 30 * done // count
    return f"{'#' * full}{'.' * (30 - full)} {done} of {count} seasons"


def _season(problem: Problem, seasons: Seasons, seed: int, executor: Executor) -> Season:
    """One season; its voltages are dropped when it is done."""
    around = seasons.season(seed)
    own = driven_by(problem, around.site, around)
    run = make_run(own, executor.stepper(own)(first_carry(own)))
    survival = survive(run)
    charges = {}
    for device in own.station.devices:
        name = charge_state(device)
        charge = run.state(device.name, name) if name else None
        if charge is not None:
            charges[device.name] = float(charge.min())
    solved = survival.unsolved_step is None
    return Season(
        seed,
        survival.end_step is None if solved else None,
        solved and survival.short_step is None,
        _when(run, survival.short_at),
        _when(run, survival.reserve_at),
        survival.short_load,
        charges,
        _short(run, survival),
    )


def _when(run: Run, at: float | None) -> datetime | None:
    return None if at is None else run.when(at)


def _short(run: Run, survival: Survival) -> dict[str, float]:
    """How long each load is wanted and without power [s]."""
    found = {}
    for device in run.problem.station.devices:
        steps = powered_steps(run, device)
        if steps is not None:
            short = survival.short_step is not None
            found[device.name] = run.seconds(steps[0] & ~steps[1]) if short else 0.0
    return found
