"""A law without jumps: where it changes most is followed down to a billionth of a volt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeAlias

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.law_checks import floor_of
from copperpath.conformance.subject import Subject, where_bad
from copperpath.conformance.trial import Trial, flow_of
from copperpath.plugin_api import BoolArray, FloatArray

TURNS = 40
"""Halvings that take 100 V down to less than the narrow width."""
WIDE_V, NARROW_V = 1e-5, 1e-9
"""The two widths of the jump test: over the narrow one a curve changes by ten thousand times less,
a jump by as much."""
SURE_TURNS = 10
"""Halvings more, to a billionth of a millivolt, for what looks like a jump: a steep piece between
two bends that happen to lie a billionth of a volt apart shrinks as well, a jump does not."""

Ends: TypeAlias = tuple[FloatArray, FloatArray, FloatArray, FloatArray]
"""An interval of an input at each point, and the law at its two ends: low, high, below, above."""


def continuous(subject: Subject) -> Iterable[Breach]:
    """No jump in any voltage: intervals are halved towards the larger change, down to nothing."""
    random = subject.random()
    for trial in subject.trials:
        for place, name in enumerate(trial.shape.v_fields):
            yield from _jumps(trial, "volts", place, f"the voltage at `{name}`", random)
        if trial.shape.seek_place >= 0:
            yield from _jumps(trial, "drives", -1, "the power on offer", random)


def _jumps(
    trial: Trial, group: str, place: int, name: str, random: np.random.Generator
) -> list[Breach]:
    """Follow the largest change of the law in one input, from every point of the trial."""
    here = getattr(trial, group)[place]
    width = 10.0 ** random.uniform(-3.0, 2.0, trial.points)
    low = here - width * random.random(trial.points)
    high = low + width
    below, above = (_moved(trial, group, place, each) for each in (low, high))
    ends = low, high, below, above
    wide = np.full_like(below, np.nan)
    going = np.ones_like(below, dtype=bool)
    for _ in range(TURNS):
        ends = _halved(trial, group, place, ends, going)
        low, high, below, above = ends
        wide = np.where(np.isnan(wide) & (high - low <= WIDE_V), np.abs(above - below), wide)
        going[:, high - low <= NARROW_V] = False
    change, rounding = np.abs(above - below), 1e-9 * (1.0 + np.abs(below))
    jumps = change > 0.1 * wide + rounding
    if jumps.any():
        for _ in range(SURE_TURNS):
            ends = _halved(trial, group, place, ends, jumps)
        low, _, below, above = ends
        jumps &= np.abs(above - below) > 0.1 * change + rounding
    bad = np.any(jumps, axis=0)
    rows = getattr(trial, group).copy()
    rows[place] = low
    there = replace(trial, **{group: rows})
    wrong = f"the law jumps where {name} rises by a billionth of a volt or watt"
    remedy = "let it fade over a small span with `between`; a switch is a Latch, told by `watch`"
    return where_bad(there, bad, wrong, remedy)


def _halved(trial: Trial, group: str, place: int, ends: Ends, asked: BoolArray) -> Ends:
    """The half of each interval that has the larger change in the rows `asked` (row, point); the
    whole of it where none is."""
    low, high, below, above = ends
    middle = 0.5 * (low + high)
    half = _moved(trial, group, place, middle)
    scale = 1.0 + np.abs(below) + np.abs(above)
    lower = np.max(asked * np.abs(half - below) / scale, axis=0)
    upper = np.max(asked * np.abs(above - half) / scale, axis=0)
    goes_low = (lower >= upper) & asked.any(axis=0)
    goes_high = ~goes_low & asked.any(axis=0)
    return (
        np.where(goes_high, middle, low),
        np.where(goes_low, middle, high),
        np.where(goes_high, half, below),
        np.where(goes_low, half, above),
    )


def _moved(trial: Trial, group: str, place: int, values: FloatArray) -> FloatArray:
    """The law with one input replaced, and the floor below it where there is one; (row, point)."""
    rows = getattr(trial, group).copy()
    rows[place] = values
    there = replace(trial, **{group: rows})
    answers = list(flow_of(there).returned)
    if trial.model.floor is not None:
        answers.append(floor_of(there))
    return np.array(answers)
