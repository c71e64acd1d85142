"""Compiled text against numpy: the helpers a law may use, and every installed model's law."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.hard_models import Divides, Loses
from support.networks import TEXT, make_cable, make_device, make_settings, problem_of
from support.sample_devices import SAMPLES, plain_site, settled

import copperpath.plugin_api as helpers
from copperpath.conformance.compiled_checks import call
from copperpath.plugin_api import (
    Accumulator,
    FloatArray,
    Lag,
    Model,
    Parameter,
    Terminal,
    elementwise,
)
from copperpath.solver import compiled_elementwise as compiled
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.constants import OFFER_POINTS, SLOPE_STEP
from copperpath.solver.kernels import LawTextProblem, kernel, kernel_text
from copperpath.solver.laws import offers_at
from copperpath.solver.layout import rows_of
from copperpath.solver.shapes import LawShape, law_shape
from copperpath.solver.solution import Outcome
from copperpath.solver.twin import solve_twin
from copperpath.station import Station

WITH_LAW = [pytest.param(model, values, id=model.name) for model, values in SAMPLES if model.law]
COUNT = 300
NUMBERS = st.floats(-100.0, 100.0)
ABOVE_0 = st.floats(0.1, 50.0)
XS, YS = (-3.0, 0.0, 1.0, 40.0), (2.0, -1.0, -1.0, 7.5)


def same(one: float, other: Any) -> bool:
    return math.isclose(one, float(other), rel_tol=1e-12, abs_tol=1e-12)


unhurried = settings(deadline=None)
"""The first call on a machine compiles, which takes longer than a test may."""


@unhurried
@given(NUMBERS, NUMBERS, NUMBERS)
def test_compiled_where_is_numpys(a: float, b: float, c: float) -> None:
    assert compiled.where(a > b, b, c) == helpers.where(a > b, b, c)


@unhurried
@given(NUMBERS, NUMBERS, ABOVE_0)
def test_compiled_between_is_numpys(x: float, low: float, width: float) -> None:
    assert compiled.between(x, low, low + width) == helpers.between(x, low, low + width)


@unhurried
@given(NUMBERS)
def test_compiled_table_is_numpys(x: float) -> None:
    assert same(compiled.table(x, XS, YS), helpers.table(x, XS, YS))


@unhurried
@given(NUMBERS, ABOVE_0, ABOVE_0)
def test_compiled_constant_power_is_numpys(v: float, watts: float, lowest: float) -> None:
    ours = compiled.constant_power(v, watts, lowest)
    assert same(ours, helpers.constant_power(v, watts, lowest))


@unhurried
@given(NUMBERS, ABOVE_0, ABOVE_0)
def test_compiled_constant_current_is_numpys(v: float, amps: float, lowest: float) -> None:
    ours = compiled.constant_current(v, amps, lowest)
    assert same(ours, helpers.constant_current(v, amps, lowest))


@unhurried
@given(st.integers(0, 10_000), st.floats(-5.0, 60.0))
def test_the_compiled_offer_is_numpys(seed: int, floor: float) -> None:
    random = np.random.default_rng(seed)
    volts = np.sort(random.uniform(10.0, 40.0, OFFER_POINTS))
    watts = np.sort(random.uniform(0.0, 100.0, OFFER_POINTS))[::-1]
    points = np.concatenate([volts, watts])
    ours = compiled.offer_at(points, floor)
    assert same(ours, offers_at(points[None], np.array([[floor]]))[0, 0])


# ---- every installed model ----------------------------------------------------------------------


def columns_of(model: type[Model], given: Any) -> tuple[LawShape, dict[str, FloatArray], Any]:
    """Random volts, states and drives (field, point), and the parameters (parameter,)."""
    random = np.random.default_rng(5)
    shape, values = law_shape(model), settled(model, **given)
    near = random.uniform(-2.0, 20.0, (len(shape.v_fields), COUNT))
    far = random.uniform(-100.0, 100.0, near.shape)
    volts = np.where(random.random(near.shape) < 0.8, near, far)
    states = np.zeros((len(model.states), COUNT))
    for row, state in zip(states, model.states, strict=True):
        if isinstance(state, Lag):
            row[:] = random.uniform(243.15, 323.15, COUNT)
        elif isinstance(state, Accumulator):
            row[:] = random.uniform(0.0, 1.0, COUNT)
        else:
            row[:] = random.integers(0, 2, COUNT)
    made = model.drive(plain_site(5.0, *random.uniform(0.0, 1100.0, COUNT)), values)
    made |= {"level": random.random(COUNT), "offer": np.zeros(COUNT)}
    drives = np.zeros((len(shape.d_fields), COUNT))
    for row, name in zip(drives, shape.d_fields, strict=True):
        row[:] = made[name]
    parameters = np.array([float(values[name.rstrip("_")]) for name in shape.p_fields])
    return shape, {"v": volts, "x": states, "d": drives}, parameters


def called(
    address: int,
    shape: LawShape,
    arrays: dict[str, FloatArray],
    parameters: FloatArray,
    points: FloatArray,
) -> FloatArray:
    """A model's rows (row, point) after a call for all points."""
    groups = (arrays["v"], arrays["x"], arrays["d"])
    return call(address, shape, groups, np.repeat(parameters[:, None], COUNT, axis=1), points)


def in_numpy(
    model: type[Model],
    shape: LawShape,
    arrays: dict[str, FloatArray],
    parameters: FloatArray,
    points: FloatArray,
) -> tuple[list[FloatArray], Any, Any]:
    """What the law returns, and the tuples it was given, offer included."""
    drives = list(arrays["d"])
    v, x, p = shape.v_type(*arrays["v"]), shape.x_type(*arrays["x"]), shape.p_type(*parameters)
    if shape.seek_place >= 0:
        floor = model.floor(v, x, shape.d_type(*drives), p)
        table = np.repeat(points[None], COUNT, axis=0)
        drives[-1] = offers_at(table, np.asarray(floor)[:, None])[:, 0]
    d = shape.d_type(*drives)
    returned = model.law(v, x, d, p)
    watched = model.watch(v, returned, x, d, p) if model.watch else ()
    full = [np.broadcast_to(np.asarray(part, dtype=float), (COUNT,)) for part in returned]
    return full, watched, (v, x, d, p)


def offer_table() -> FloatArray:
    return np.concatenate(
        [np.linspace(12.0, 22.0, OFFER_POINTS), np.linspace(80.0, 0.0, OFFER_POINTS)]
    )


@pytest.mark.parametrize(("model", "given"), WITH_LAW)
def test_a_models_compiled_law_is_its_numpy_law(model: type[Model], given: Any) -> None:
    shape, arrays, parameters = columns_of(model, given)
    points = offer_table()
    rows = rows_of(shape)
    out = called(kernel(model).law, shape, arrays, parameters, points)
    returned, _, _ = in_numpy(model, shape, arrays, parameters, points)
    for row, amps in enumerate(shape.currents(tuple(returned))):
        np.testing.assert_allclose(out[rows.amps + row], amps, rtol=1e-12, atol=1e-12)
    if shape.seek_place >= 0:
        watts = returned[shape.seek_place]
        np.testing.assert_allclose(out[rows.watts], watts, rtol=1e-12, atol=1e-12)


@pytest.mark.parametrize(("model", "given"), WITH_LAW)
def test_a_models_compiled_slopes_are_differences_of_its_law(
    model: type[Model], given: Any
) -> None:
    shape, arrays, parameters = columns_of(model, given)
    points, count = offer_table(), len(law_shape(model).v_fields)
    slopes = rows_of(shape).slopes
    out = called(kernel(model).law, shape, arrays, parameters, points)
    for column in range(count):
        moved = {**arrays, "v": arrays["v"].copy()}
        moved["v"][column] += SLOPE_STEP
        here = shape.currents(tuple(in_numpy(model, shape, arrays, parameters, points)[0]))
        there = shape.currents(tuple(in_numpy(model, shape, moved, parameters, points)[0]))
        for row in range(count):
            slope = (there[row] - here[row]) / SLOPE_STEP
            # Rounding in currents of up to 10 kA, over a millionth of a volt.
            rounding = 1e-14 * np.abs(here[row]) / SLOPE_STEP + 1e-6
            written = out[slopes + row * count + column]
            assert (np.abs(written - slope) <= rounding + 1e-7 * np.abs(slope)).all()


@pytest.mark.parametrize(("model", "given"), WITH_LAW)
def test_a_models_compiled_watch_is_its_numpy_watch(model: type[Model], given: Any) -> None:
    shape, arrays, parameters = columns_of(model, given)
    compiled_watch = kernel(model).watch
    assert (compiled_watch == 0) == (model.watch is None)
    if model.watch is None:
        return
    points = offer_table()
    out = called(compiled_watch, shape, arrays, parameters, points)
    _, watched, _ = in_numpy(model, shape, arrays, parameters, points)
    for row, signal in enumerate(watched):
        np.testing.assert_allclose(
            out[rows_of(shape).signals + row],
            np.asarray(signal, dtype=float),
            rtol=1e-12,
            atol=1e-12,
        )


# ---- laws that cannot be used -------------------------------------------------------------------

LOOKUP = {"amps": 1.0}
TWICE = 2.0


def unmarked(v: Any) -> Any:
    return TWICE * v


@elementwise
def passes_on(v: Any) -> Any:
    return unmarked(v)


def model_with(law_function: Any) -> type[Model]:
    class Tried(Model):
        interface = 1
        name = "tried"
        kind = "load"
        parameters = (Parameter("amps", "current", "amps", required=True),)
        terminals = (Terminal("line", "its supply", main=True),)
        law = staticmethod(law_function)

    return Tried


def looks_up(v: Any, x: Any, d: Any, p: Any) -> Any:
    return (LOOKUP["amps"] * v.line,)


def calls_unmarked(v: Any, x: Any, d: Any, p: Any) -> Any:
    return (unmarked(v.line),)


def calls_through_a_helper(v: Any, x: Any, d: Any, p: Any) -> Any:
    return (passes_on(v.line),)


def uses_math(v: Any, x: Any, d: Any, p: Any) -> Any:
    return (math.exp(v.line),)


@pytest.mark.parametrize(
    ("law", "word"),
    [
        (looks_up, "LOOKUP"),
        (calls_unmarked, "unmarked"),
        (calls_through_a_helper, "unmarked"),
        (uses_math, "math"),
    ],
)
def test_a_law_that_uses_a_foreign_name_is_refused_by_model_and_word(law: Any, word: str) -> None:
    with pytest.raises(LawTextProblem) as caught:
        kernel_text(model_with(law))
    assert "`tried`" in str(caught.value)
    assert f"`{word}`" in str(caught.value)


@pytest.mark.parametrize(("model", "values"), [(Divides, {"watts": 5.0}), (Loses, {"amps": 1.0})])
def test_a_law_that_gives_no_number_ends_as_not_solved(model: type[Model], values: Any) -> None:
    pack = SAMPLES[3]
    devices = (
        make_device("pack", pack[0], **{**pack[1], "charge": 0.2}),
        make_device("odd", model, **values),
    )
    cables = (make_cable("pack.line", "odd.line", 0.1),)
    station = Station("odd", make_settings(0.5), devices, cables, (), (), TEXT)
    problem = problem_of(station, 900.0)
    with np.errstate(all="ignore"):
        twin = solve_twin(problem)
    for solution in (solve_compiled(problem), twin):
        assert (solution.outcome == Outcome.NOT_SOLVED).all()
        assert np.isnan(solution.volts).all()
        assert np.isfinite(solution.states).all()
