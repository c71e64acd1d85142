"""A law by itself: it answers, with finite numbers, nothing at no voltage, and the same
however its inputs are shaped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.subject import Subject, of_device, where_bad
from copperpath.conformance.trial import Flow, Trial, filled, flow_of, power_of, watched
from copperpath.plugin_api import FloatArray, Terminal
from copperpath.study.what_ifs import changed_device

SAME = 1e-12


def answers(subject: Subject) -> Iterable[Breach]:
    """The law, and what stands beside it, can be called and give the right count of numbers."""
    for trial in subject.trials:
        try:
            yield from _counts(trial)
        except Exception as error:  # whatever an author's law does with arrays
            yield of_device(
                trial,
                f"its functions cannot be evaluated on arrays: {type(error).__name__}: {error}",
                "use only what docs/plugin_authors.md allows in a law: no `if`, no `and`, no "
                "`1 < a < 3`",
            )
            return


def _counts(trial: Trial) -> Iterator[Breach]:
    model, shape = trial.model, trial.shape
    v, x, d, p = trial.tuples()
    with np.errstate(all="ignore"):
        returned = model.law(v, x, d, p)
    wanted = len(shape.v_fields) + (shape.seek_place >= 0)
    if not isinstance(returned, tuple) or len(returned) != wanted:
        count = len(returned) if isinstance(returned, tuple) else "no tuple"
        yield of_device(
            trial,
            f"the law must return a tuple of {wanted}, one for each terminal and inner node; it "
            f"returns {count}",
            "a single current is written `(amps,)`",
        )
        return
    flow = flow_of(trial)
    if model.watch is not None:
        signals = model.watch(v, flow.returned, x, d, p)
        if not isinstance(signals, tuple) or len(signals) != shape.signals:
            count = len(signals) if isinstance(signals, tuple) else "no tuple"
            yield of_device(
                trial,
                f"`watch` must return a flat tuple of {shape.signals} signals; it returns {count}",
                "one for each accumulator and lag, two (set, clear) for each latch, in the order "
                "of `states`",
            )
            return
    watched(trial, flow)
    for name in ("heat", "store"):
        power_of(trial, flow, name)


def finite(subject: Subject) -> Iterable[Breach]:
    """Currents, heat and store are numbers anywhere within 400 V; so they are in every what-if."""
    remedy = "keep divisors away from zero with np.maximum, and exponents small with np.minimum"
    for trial in subject.trials:
        flow = flow_of(trial)
        for name, row in _rows(trial, flow):
            yield from where_bad(trial, ~np.isfinite(row), f"{name} is not a finite number", remedy)
        yield from _hidden_faults(trial, remedy)
        for suspect in trial.model.suspects:
            changed = changed_device(trial.device, dict(suspect.change))
            other = replace(trial, device=changed)
            bad = ~np.isfinite(np.sum(np.abs(flow_of(other).returned), axis=0))
            wrong = f"its current is not finite once '{suspect.cause}' is taken away"
            yield from where_bad(trial, bad, wrong, "look at the change that this suspect makes")


def _hidden_faults(trial: Trial, remedy: str) -> Iterator[Breach]:
    try:
        with np.errstate(all="raise", under="ignore"):
            trial.model.law(*trial.tuples())
    except FloatingPointError as error:
        yield of_device(
            trial,
            f"the law meets a {error}, even if its result is thrown away",
            f"`where` works out both sides: {remedy}",
        )


def _rows(trial: Trial, flow: Flow) -> Iterator[tuple[str, FloatArray]]:
    names = list(trial.shape.v_fields)
    if trial.shape.seek_place >= 0:
        names.insert(trial.shape.seek_place, "the seeking terminal")
    for name, row in zip(names, flow.returned, strict=True):
        yield f"the law at `{name}`", row
    for name in ("heat", "store"):
        if getattr(trial.model, name) is not None:
            yield f"`{name}`", power_of(trial, flow, name)
    if trial.model.floor is not None:
        yield "`floor`", floor_of(trial)


def floor_of(trial: Trial) -> FloatArray:
    with np.errstate(all="ignore"):
        return filled((trial.model.floor(*trial.tuples()),), trial.points)[0]


# ---- nothing at no voltage ------------------------------------------------------------------


def no_draw(subject: Subject) -> Iterable[Breach]:
    """With 0 V everywhere no current flows in; what gives may want to push some out."""
    for trial in subject.trials:
        rest = trial.at_rest()
        flow = flow_of(rest)
        plain = [t for t in trial.model.terminals if isinstance(t, Terminal)]
        for terminal, row in zip(plain, flow.returned, strict=False):
            if not terminal.gives:
                wrong = f"it draws at `{terminal.name}` with no voltage anywhere"
                remedy = "let the current fall to nothing with the voltage: constant_power and "
                remedy += "constant_current do"
                yield from where_bad(rest, row != 0.0, wrong, remedy)


# ---- floats, arrays, axes -------------------------------------------------------------------


def floats_and_arrays(subject: Subject) -> Iterable[Breach]:
    """Single numbers give what arrays give, to 1e-12."""
    for trial in subject.trials:
        flow = flow_of(trial)
        rows = [*flow.returned, *watched(trial, flow)]
        p = trial.tuples()[3]
        for point in range(min(trial.points, 20)):
            v, x, d = _single(trial, point)
            with np.errstate(all="ignore"):
                returned = trial.model.law(v, x, d, p)
                signals = (
                    () if trial.model.watch is None else trial.model.watch(v, returned, x, d, p)
                )
            bad = np.zeros(trial.points, dtype=bool)
            bad[point] = not all(
                _same(one, row[point]) for one, row in zip((*returned, *signals), rows, strict=True)
            )
            wrong = "single numbers give something else than arrays do"
            remedy = "work element by element: no sums, sorts or indices over the points"
            yield from where_bad(trial, bad, wrong, remedy)


def _single(trial: Trial, point: int) -> tuple[Any, Any, Any]:
    shape = trial.shape
    return (
        shape.v_type(*(float(row[point]) for row in trial.volts)),
        shape.x_type(*(float(row[point]) for row in trial.states)),
        shape.d_type(*(float(row[point]) for row in trial.drives)),
    )


def _same(one: Any, other: Any) -> bool:
    return bool(np.allclose(np.asarray(one, float), other, rtol=SAME, atol=SAME, equal_nan=True))


def axes(subject: Subject) -> Iterable[Breach]:
    """Devices, cases and time may each have an axis of their own, in that order."""
    if not subject.trials:
        return
    trials = subject.trials[:3]
    first, times = trials[0], 5
    spread = (first.shape.v_type, first.shape.x_type, first.shape.d_type, first.shape.p_type)
    v = np.array([t.volts[:, :times] for t in trials])[:, :, None, :]
    x = np.array([t.states[:, :2] for t in trials])[:, :, :, None]
    d = np.array([t.drives[:, :times] for t in trials])[:, :, None, :]
    p = np.array([t.parameters for t in trials])[:, :, None, None]
    stacked = [
        kind(*np.moveaxis(rows, 1, 0)) for kind, rows in zip(spread, (v, x, d, p), strict=True)
    ]
    full = (len(trials), 2, times)
    try:
        with np.errstate(all="ignore"):
            answers = first.model.law(*stacked)
        broad = [np.broadcast_to(np.asarray(part, float), full) for part in answers]
    except Exception as error:  # whatever an author's law does with these shapes
        yield _axes_breach(first, f": {type(error).__name__}: {error}")
        return
    for at, trial in enumerate(trials):
        states = np.repeat(trial.states[:, :2], times, axis=1)
        volts, drives = (np.tile(rows[:, :times], (1, 2)) for rows in (trial.volts, trial.drives))
        alone = flow_of(replace(trial, volts=volts, states=states, drives=drives))
        for part, row in zip(broad, alone.returned, strict=True):
            if not _same(part[at].ravel(), row):
                yield _axes_breach(trial, " and give other numbers than each device alone")
                return


def _axes_breach(trial: Trial, ending: str) -> Breach:
    return of_device(
        trial,
        f"inputs with axes (device, case, time) do not broadcast{ending}",
        "write arithmetic that works on any shape; the law must not care how many axes there are",
    )
