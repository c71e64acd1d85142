"""The panels of volts: the loads nearest to the least they need, mean and worst instant."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from copperpath.drawing.clock_axis import Clock, spans
from copperpath.drawing.labels import Label, label_ends
from copperpath.drawing.look import LINES, shown
from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.record.record import Case
from copperpath.report.layout import crop

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MOST_LOADS = 4
MOST_GROUPS = 3
APART = 1.5
"""Loads whose least volts differ by more than this factor are drawn in panels of their own."""

DEAD_SHARE = 0.85
"""A panel goes down to this share of the least volts that a load in it needs, and no further."""


@dataclass(frozen=True, slots=True)
class LoadVolts:
    """A load over time: volts as the mean and at the worst instant [V], the least it needs [V],
    and where it is wanted and short of them (time,)."""

    name: str
    mean: FloatArray
    worst: FloatArray
    needs: float
    short: BoolArray
    spare: float
    """How far its worst is above the least it needs while wanted, as a share of that."""


def nearest_loads(case: Case) -> list[LoadVolts]:
    """Every load that says what it needs, the one nearest to it (or furthest below) first."""
    figures = {each.name: each for each in case.devices}
    found = []
    for device in case.station.devices:
        mean = case.traces.get(f"{device.name}.mean_voltage")
        worst = case.traces.get(f"{device.name}.voltage")
        if device.kind != "load" or device.model.powered is None or mean is None or worst is None:
            continue
        needs = float(device.values[device.model.powered[1]])
        wanted = case.marks.get(f"{device.name}.wanted")
        on = np.zeros(len(mean.values), dtype=bool) if wanted is None else wanted.values > 0.0
        lowest = figures[device.name].worst_voltage_v
        spare = (lowest - needs) / needs if math.isfinite(lowest) else math.inf
        # Not the other way round: a step without a figure is short, too.
        short = on & ~(worst.values >= needs)
        found.append(LoadVolts(device.name, mean.values, worst.values, needs, short, spare))
    return sorted(found, key=lambda load: load.spare)


def group_loads(loads: list[LoadVolts]) -> list[list[LoadVolts]]:
    """Those that are drawn, in panels of like volts, the highest first."""
    groups: list[list[LoadVolts]] = []
    for load in loads[:MOST_LOADS]:
        for group in groups:
            if max(load.needs / group[0].needs, group[0].needs / load.needs) <= APART:
                group.append(load)
                break
        else:
            if len(groups) < MOST_GROUPS:
                groups.append([load])
    return sorted(groups, key=lambda group: -group[0].needs)


def left_out(loads: list[LoadVolts], groups: list[list[LoadVolts]]) -> list[str]:
    """In words, how many loads are not drawn."""
    count = len(loads) - sum(len(group) for group in groups)
    if not count:
        return []
    loads_are = "load is" if count == 1 else "loads are"
    return [f"{count} more {loads_are} left out, with more volts to spare"]


def draw_volts(axes: Axes, group: list[LoadVolts], clock: Clock) -> None:
    """One panel."""
    pieces = clock.pieces
    labels = []
    floor, top = _limits(group)
    axes.set_ylim(floor, top)
    axes.set_ylabel("volts at the\nload [V]")
    for load, (colour, dash) in zip(group, LINES, strict=False):
        low, high = pieces.least(load.worst), pieces.most(load.mean)
        edges = pieces.edges_s
        if len(group) == 1:
            # Several bands over each other would be mud.
            axes.stairs(
                np.nan_to_num(high), edges, baseline=np.nan_to_num(low), fill=True, color=colour,
                alpha=0.25, linewidth=0.0, gid=f"band {load.name}",
            )  # fmt: skip
        axes.stairs(
            pieces.mean(load.mean), edges, baseline=None, color=colour, linestyle=dash,
            linewidth=1.4, gid=f"mean {load.name}",
        )  # fmt: skip
        axes.stairs(
            low, edges, baseline=None, color=colour, linestyle=dash, linewidth=0.7,
            gid=f"worst {load.name}",
        )  # fmt: skip
        last = load.mean[np.isfinite(load.mean)]
        end = float(last[-1]) if len(last) else floor
        labels.append(Label(end, crop(shown(load.name), 20), colour))
    for needs, users in _needs(group):
        axes.axhline(needs, color="black", linewidth=0.9, linestyle=(0, (1, 2)))
        who = "" if len(group) == len(users) else f" ({crop(shown(users[0]), 10)})"
        labels.append(Label(needs, f"needs {needs:.4g} V{who}", "black"))
    _mark_short(axes, group, clock)
    label_ends(axes, labels)


def _needs(group: list[LoadVolts]) -> list[tuple[float, list[str]]]:
    found: dict[float, list[str]] = {}
    for load in group:
        found.setdefault(round(load.needs, 3), []).append(load.name)
    return list(found.items())


def _limits(group: list[LoadVolts]) -> tuple[float, float]:
    least = min(load.needs for load in group)
    values = np.concatenate([row for load in group for row in (load.mean, load.worst)])
    values = values[np.isfinite(values)]
    most = float(values.max(initial=least))
    most = max(most, max(load.needs for load in group) * 1.02)
    floor = max(float(values.min(initial=least)), DEAD_SHARE * least)
    floor = min(floor, least)
    gap = 0.06 * max(most - floor, 0.1)
    return floor - gap, most + gap


def _mark_short(axes: Axes, group: list[LoadVolts], clock: Clock) -> None:
    """A black bar along the bottom where a load is wanted and lacks volts."""
    pieces = clock.pieces
    short = np.any([load.short for load in group], axis=0)
    held = spans(pieces.most(short.astype(np.float64)) > 0.5, pieces.edges_s)
    for begin, end in held:
        axes.axvspan(begin, end, ymin=0.0, ymax=0.05, color="black", linewidth=0.0, gid="short")
    if held:
        begin, end = max(held, key=lambda span: span[1] - span[0])
        middle = 0.5 * (begin + end) / clock.lasts_s
        axes.annotate(
            "a load is short", xy=(min(max(middle, 0.07), 0.93), 0.07), ha="center", va="bottom",
            xycoords="axes fraction", fontsize=8.0,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0, "alpha": 0.85},
        )  # fmt: skip
