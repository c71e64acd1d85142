"""The time axis that all panels share: the station's clock, its ticks, and the nights."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from copperpath.drawing.look import NIGHT
from copperpath.drawing.thinning import DAY_S, HOUR_S, LONG_S, Pieces, gather
from copperpath.plugin_api import FloatArray
from copperpath.record.record import Case
from copperpath.report.words import MONTHS
from copperpath.site.place import make_place
from copperpath.site.sun import sun_over_time

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LOOK_S = 300.0
MOST_TICKS = 14
TICKS_H = (1, 2, 3, 6, 12)


@dataclass(frozen=True, slots=True)
class Clock:
    """The time of a case for drawing.

    Attributes
    ----------
    starts : datetime
        Of the station's clock.
    edges_s : ndarray (time + 1,) [s]
        Where steps begin and end, from the start.
    pieces : Pieces
        What is drawn in place of the steps.
    """

    starts: datetime
    edges_s: FloatArray
    pieces: Pieces

    @property
    def lasts_s(self) -> float:
        """Length of the run [s]."""
        return float(self.edges_s[-1])

    @property
    def long(self) -> bool:
        """True if nights are too many to be shown."""
        return self.lasts_s > LONG_S


def make_clock(case: Case, step_s: float) -> Clock:
    """The clock of a case that was run in steps of at most `step_s` [s]."""
    site = case.station.site
    begins = case.time_s - case.time_s[0]
    ends = step_s * np.ceil(site.lasts_s / step_s - 1e-9)
    edges = np.append(begins, max(float(ends), float(begins[-1]) + 1e-3))
    starts = site.starts
    shows = starts - starts.replace(hour=0, minute=0, second=0, microsecond=0)
    return Clock(starts, edges, gather(edges, shows.total_seconds()))


def nights(case: Case, clock: Clock) -> list[tuple[float, float]]:
    """From when to when the sun is under the horizon, from the start of the run [s]."""
    place = make_place(case.station.site)
    looks = np.append(np.arange(0.0, clock.lasts_s, LOOK_S), clock.lasts_s)
    height = sun_over_time(case.time_s[0] + looks, place).apparent_elevation_deg
    down = height <= 0.0
    turns = np.flatnonzero(down[1:] != down[:-1])
    # A straight line between two looks of five minutes is good to a few seconds.
    share = height[turns] / (height[turns] - height[turns + 1])
    at = (looks[turns] + share * (looks[turns + 1] - looks[turns])).tolist()
    if down[0]:
        at.insert(0, 0.0)
    if down[-1]:
        at.append(clock.lasts_s)
    return list(zip(at[::2], at[1::2], strict=True))


def spans(chosen: np.ndarray, edges_s: FloatArray) -> list[tuple[float, float]]:
    """From when to when steps that follow each other are chosen [s]."""
    padded = np.concatenate([[False], chosen, [False]])
    turns = np.flatnonzero(padded[1:] != padded[:-1])
    return [
        (float(edges_s[first]), float(edges_s[last]))
        for first, last in zip(turns[::2], turns[1::2], strict=True)
    ]


def shade(axes: Axes, dark: list[tuple[float, float]]) -> None:
    """Shade the nights behind everything else."""
    for begin, end in dark:
        axes.axvspan(begin, end, facecolor=NIGHT, edgecolor="none", zorder=0, gid="night")


def ticks(clock: Clock) -> list[tuple[float, str, bool]]:
    """Where ticks stand [s], what is written there ("" for nothing), and whether a day begins."""
    starts, lasts = clock.starts, clock.lasts_s
    midnight = starts.replace(hour=0, minute=0, second=0, microsecond=0)
    if lasts > LONG_S:
        return _months(clock)
    every = next((hours for hours in TICKS_H if lasts / (hours * HOUR_S) <= MOST_TICKS), 24)
    days = max(1, int(np.ceil(lasts / DAY_S / MOST_TICKS)))
    found = []
    count = int((lasts + 2 * DAY_S) / (every * HOUR_S)) + 1
    for number in range(count):
        when = midnight + timedelta(hours=every * number)
        at = (when - starts).total_seconds()
        if not 0.0 <= at <= lasts + 1e-6:
            continue
        new_day = when.hour == 0
        text = f"{when:%H:%M}"
        if new_day:
            date = f"{when.day} {MONTHS[when.month - 1][:3]}"
            text = date if every == 24 else f"{text}\n{date}"
            if every == 24 and (when - midnight).days % days:
                text = ""
        found.append((at, text, new_day))
    return _dated(found, clock)


def _dated(found: list[tuple[float, str, bool]], clock: Clock) -> list[tuple[float, str, bool]]:
    """The first tick with the date and the year of the start."""
    if not found:
        return found
    at, text, new_day = found[0]
    if not new_day:
        text += f"\n{clock.starts.day} {MONTHS[clock.starts.month - 1][:3]}"
    return [(at, f"{text} {clock.starts.year}", new_day), *found[1:]]


def _months(clock: Clock) -> list[tuple[float, str, bool]]:
    found = []
    year, month = clock.starts.year, clock.starts.month
    months = int(clock.lasts_s / (28 * DAY_S)) + 2
    every = max(1, int(np.ceil(months / MOST_TICKS)))
    for number in range(months):
        when = datetime(
            year + (month - 1 + number) // 12,
            (month - 1 + number) % 12 + 1,
            1,
            tzinfo=clock.starts.tzinfo,
        )
        at = (when - clock.starts).total_seconds()
        if 0.0 <= at <= clock.lasts_s:
            text = f"{MONTHS[when.month - 1][:3]}\n{when.year}" if number % every == 0 else ""
            found.append((at, text, True))
    return found


def set_time(axes: Axes, clock: Clock, *, written: bool) -> None:
    """Limits and ticks of a panel; only the lowest has them written."""
    found = ticks(clock)
    axes.set_xlim(0.0, clock.lasts_s)
    axes.set_xticks([at for at, _, _ in found])
    axes.set_xticklabels([text if written else "" for _, text, _ in found])
    axes.grid(axis="y", color="#CCCCCC", linewidth=0.5)
    axes.set_axisbelow(True)
    if not clock.long:
        for at, _, new_day in found:
            if new_day:
                axes.axvline(at, color="#B0B0B0", linewidth=0.6, zorder=0.5)
