"""The panel of charge: each store in percent, its reserve, and where it may not be charged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from copperpath.drawing.clock_axis import Clock, spans
from copperpath.drawing.labels import Label, label_ends
from copperpath.drawing.look import LINES, shown
from copperpath.plugin_api import FloatArray
from copperpath.record.record import Case
from copperpath.report.layout import crop

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ALIKE = 0.002
"""Stores whose charges never differ by more are drawn as one line."""

MOST_LINES = 5
HATCHES = ("////", "\\\\\\\\", "xxxx")
ANNOTATED = 0.012
"""Hatched spans shorter than this share of the run have no word in them."""


@dataclass(frozen=True, slots=True)
class StoreLine:
    """Stores that are drawn as one line: their names, and charge at the end of each step."""

    names: tuple[str, ...]
    charge: FloatArray

    @property
    def text(self) -> str:
        """`pack`, or `pack.1 and 3 like it`."""
        more = f"\nand {len(self.names) - 1} like it" if len(self.names) > 1 else ""
        return crop(shown(self.names[0]), 18) + more


def store_lines(case: Case) -> list[StoreLine]:
    """What is drawn, those with the least charge at any time first."""
    lines: list[StoreLine] = []
    for device in case.station.devices:
        trace = case.traces.get(f"{device.name}.charge")
        if device.kind != "storage" or trace is None:
            continue
        for place, line in enumerate(lines):
            if np.allclose(line.charge, trace.values, atol=ALIKE, rtol=0.0, equal_nan=True):
                lines[place] = StoreLine((*line.names, device.name), line.charge)
                break
        else:
            lines.append(StoreLine((device.name,), trace.values))
    return sorted(lines, key=lambda line: float(np.nanmin(line.charge)))


def blocked_spans(case: Case, clock: Clock) -> dict[tuple[str, str], list[tuple[float, float]]]:
    """By store and latch (`cold`), from when to when it stands [s]; none that never does."""
    found = {}
    for device in case.station.devices:
        for suspect in device.model.suspects if device.kind == "storage" else ():
            trace = case.marks.get(f"{device.name}.{suspect.latch}")
            if trace is None or not trace.values.any():
                continue
            pieces = clock.pieces
            # Of a whole day the greater part counts: a cold hour before dawn is no cold day.
            share = pieces.mean(trace.values) if pieces.daily else pieces.most(trace.values)
            held = spans(share > 0.5, pieces.edges_s)
            if held:
                found[device.name, suspect.latch] = held
    return found


def draw_charge(axes: Axes, case: Case, clock: Clock) -> None:
    """Draw it."""
    lines = store_lines(case)
    axes.set_ylim(0.0, 104.0)
    axes.set_yticks([0, 20, 40, 60, 80, 100])
    axes.set_ylabel("charge of the\nstore [%]")
    if not lines:
        axes.text(0.5, 0.5, "no store in this station", transform=axes.transAxes, ha="center")
        return
    _hatch(axes, case, clock)
    labels = []
    several = len(lines) > 1
    for line, (colour, dash) in zip(lines[:MOST_LINES], LINES, strict=False):
        labels.append(_draw_line(axes, line, clock, colour, dash))
        reserve = case.marks.get(f"{line.names[0]}.reserve")
        if reserve is not None:
            word = f"reserve of\n{crop(shown(line.names[0]), 16)}" if several else "reserve"
            labels.append(_draw_reserve(axes, reserve.values, clock, colour, word))
    label_ends(axes, labels)


def _draw_line(axes: Axes, line: StoreLine, clock: Clock, colour: str, dash: Any) -> Label:
    pieces, percent = clock.pieces, 100.0 * line.charge
    at, middle = pieces.edges_s[1:], percent
    if pieces.thinned:
        edges, low, high = pieces.edges_s, pieces.least(percent), pieces.most(percent)
        axes.stairs(high, edges, baseline=low, fill=True, color=colour, alpha=0.35, lw=0)
        at, middle = 0.5 * (edges[1:] + edges[:-1]), pieces.mean(percent)
    axes.plot(at, middle, color=colour, linestyle=dash, label=line.names[0])
    return Label(float(percent[-1]), line.text, colour)


def _draw_reserve(axes: Axes, reserve: FloatArray, clock: Clock, colour: str, word: str) -> Label:
    pieces, percent = clock.pieces, 100.0 * reserve
    axes.stairs(
        pieces.mean(percent), pieces.edges_s, baseline=None, color=colour, linewidth=0.9,
        linestyle=(0, (1, 2)), label=word.replace("\n", " "),
    )  # fmt: skip
    return Label(float(percent[-1]), word, colour)


def _hatch(axes: Axes, case: Case, clock: Clock) -> None:
    """Where charging is blocked, hatched, with the reason written in."""
    found = blocked_spans(case, clock)
    alone = len([each for each in case.station.devices if each.kind == "storage"]) == 1
    for row, ((store, latch), held) in enumerate(found.items()):
        hatch = HATCHES[row % len(HATCHES)]
        word = latch if alone else f"{latch}: {crop(shown(store), 16)}"
        widest = max(end - begin for begin, end in held)
        for begin, end in held:
            axes.axvspan(
                begin, end, facecolor="none", edgecolor="#9A9A9A", hatch=hatch, linewidth=0.0,
                zorder=0.8, gid=f"blocked {row}",
            )  # fmt: skip
            if end - begin > max(ANNOTATED * clock.lasts_s, 0.45 * widest) and row < 4:
                axes.text(
                    0.5 * (begin + end), 97.0 - 11.0 * row, word, ha="center", va="top",
                    fontsize=8.0, clip_on=True,
                    bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0, "alpha": 0.85},
                )  # fmt: skip
