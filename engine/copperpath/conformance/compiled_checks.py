"""The two executors: a model's compiled kernel, called through its address, against numpy."""

from __future__ import annotations

import ctypes
from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.subject import Subject, plain, where_bad
from copperpath.conformance.trial import Trial, filled, flow_of, watched
from copperpath.plugin_api import BoolArray, FloatArray, Model
from copperpath.solver.constants import OFFER_POINTS, SLOPE_STEP
from copperpath.solver.kernels import Kernel, LawTextProblem, kernel
from copperpath.solver.laws import offers_at
from copperpath.solver.layout import LANES, rows_of
from copperpath.solver.shapes import LawShape

SAME = 1e-12
MOST_POINTS = 60
"""Points at which compiled law and numpy are held against each other."""

REMEDY = "use only what docs/plugin_authors.md allows in a law"


def compiles(subject: Subject) -> Iterable[Breach]:
    """The text of law, floor and watch can be compiled for the time loop."""
    try:
        kernel(subject.model)
    except LawTextProblem as problem:
        yield plain(subject, str(problem), REMEDY)
    except OSError as problem:
        yield plain(subject, f"its text cannot be read: {problem}", "define it in a file")
    except Exception as problem:  # the compiler's own kinds, with long texts
        lines = [line.strip() for line in str(problem).splitlines() if line.strip()]
        words = "; ".join(lines[:3])[:300]
        yield plain(subject, f"its text cannot be compiled: {words}", REMEDY)


def agree(subject: Subject) -> Iterable[Breach]:
    """Compiled law and watch give what numpy gives, to 1e-12."""
    made = kernel(subject.model)
    for trial in subject.trials:
        yield from _agrees(_first_points(trial), made)


def _agrees(trial: Trial, made: Kernel) -> list[Breach]:
    table = _offer_table()
    seen = _with_offers(trial, table)
    count, points = len(trial.shape.v_fields), trial.points
    seeks = trial.shape.seek_place >= 0
    rows = rows_of(trial.shape)
    written = called(made.law, trial, table)
    flow = flow_of(seen)
    # The last digit of a current is that of the larger ones it is made from.
    scale = np.max(np.abs(np.vstack([flow.amps, flow.watts])), axis=0, initial=1.0)
    found_amps = written[rows.amps : rows.amps + count]
    found_watts = written[rows.watts : rows.floor] if seeks else np.zeros((1, points))
    ours = np.vstack([found_amps, found_watts])
    bad = _differ(ours, np.vstack([flow.amps, flow.watts]), scale)
    remedy = "look for what numpy and compiled text do differently: whole numbers, `~`, indices"
    found = where_bad(seen, bad, "the compiled law gives something else than numpy", remedy)
    if made.watch:
        signals = np.array(watched(seen, flow)).reshape(-1, points)
        out = called(made.watch, trial, table)[rows.signals : rows.total]
        bad = _differ(out, signals, 1.0 + np.abs(signals))
        found += where_bad(seen, bad, "the compiled `watch` gives something else", remedy)
    return found


def _differ(one: FloatArray, other: FloatArray, scale: FloatArray) -> BoolArray:
    """Where any row differs by more than the last digit of `scale` (point,)."""
    alike = (one == other) | (np.isnan(one) & np.isnan(other))
    return np.asarray(~np.all(alike | (np.abs(one - other) <= SAME * scale), axis=0))


def called(address: int, trial: Trial, table: FloatArray) -> FloatArray:
    """A model's rows (row, point) after a call for all points; `table` holds the offers."""
    groups = (trial.volts, trial.states, trial.drives)
    parameters = np.repeat(trial.parameters[:, None], trial.points, axis=1)
    return call(address, trial.shape, groups, parameters, table)


def call(
    address: int,
    shape: LawShape,
    groups: tuple[FloatArray, FloatArray, FloatArray],
    parameters: FloatArray,
    table: FloatArray,
) -> FloatArray:
    """A model's rows (row, device) after a call of one of its kernels.

    Parameters
    ----------
    groups : volts, states, drives, each (field, device)
    parameters : ndarray (field, device)
    """
    rows, devices = rows_of(shape), groups[0].shape[1]
    filled_rows = np.zeros((rows.total, -(-devices // LANES) * LANES))
    firsts = (rows.volts, rows.states, rows.drives, rows.parameters)
    for first, group in zip(firsts, (*groups, parameters), strict=True):
        filled_rows[first : first + len(group), :devices] = group
    blocks = filled_rows.reshape(rows.total, -1, LANES).transpose(1, 0, 2)
    cells = np.ascontiguousarray(blocks)
    pointer = ctypes.POINTER(ctypes.c_double)
    function = ctypes.CFUNCTYPE(None, pointer, pointer, ctypes.c_int64, ctypes.c_double)(address)
    function(
        cells.ctypes.data_as(pointer), table.ctypes.data_as(pointer), devices, float(SLOPE_STEP)
    )
    return np.ascontiguousarray(cells.transpose(1, 0, 2)).reshape(rows.total, -1)[:, :devices]


def _first_points(trial: Trial) -> Trial:
    groups = {name: getattr(trial, name)[:, :MOST_POINTS] for name in ("volts", "states", "drives")}
    return replace(trial, **groups)


def _offer_table() -> FloatArray:
    """Most power against lowest voltage, as panels would give it: 12 V to 22 V, 80 W to none."""
    volts = np.linspace(12.0, 22.0, OFFER_POINTS)
    return np.concatenate([volts, np.linspace(80.0, 0.0, OFFER_POINTS)])


def _with_offers(trial: Trial, table: FloatArray) -> Trial:
    """The trial with the offer that stands in the table at its floor."""
    if trial.shape.seek_place < 0:
        return trial
    model: type[Model] = trial.model
    floor = filled((model.floor(*trial.tuples()),), trial.points)[0]
    drives = trial.drives.copy()
    drives[-1] = offers_at(np.repeat(table[None], trial.points, axis=0), floor[:, None])[:, 0]
    return replace(trial, drives=drives)
