"""What holds for the laws of all built-in models, at random voltages, states and drives."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from support.sample_devices import SAMPLES, plain_site, settled

from copperpath.plugin_api import Accumulator, Lag, Model, Parameter, Terminal, Window
from copperpath.solver.shapes import LawShape, law_shape

WITH_LAW = [pytest.param(m, g, id=m.name) for m, g in SAMPLES if m.law is not None]
WITH_HEAT = [pytest.param(m, g, id=m.name) for m, g in SAMPLES if m.heat is not None]
TAKERS = [pytest.param(m, g, id=m.name) for m, g in SAMPLES if m.kind in ("load", "converter")]
LOADS = [pytest.param(m, g, id=m.name) for m, g in SAMPLES if m.kind == "load"]
EVERY = [pytest.param(m, g, id=m.name) for m, g in SAMPLES]
COUNT = 4000


def _inputs(
    model: type[Model], given: Mapping[str, Any], count: int, seed: int
) -> tuple[LawShape, list[np.ndarray], Any, Any, Any]:
    """Random volts within 400 V (half of them where things happen), states and drives."""
    random = np.random.default_rng(seed)
    shape = law_shape(model)
    values = settled(model, **given)
    volts = [
        np.where(random.random(count) < 0.5, random.uniform(-400, 400, count), near)
        for near in random.uniform(0, 20, (len(shape.v_fields), count))
    ]
    states = []
    for state in model.states:
        if isinstance(state, Lag):
            # One that starts from a drive follows a temperature; the others follow a small share.
            low, high = (243.15, 323.15) if state.initial in model.drives else (-0.3, 0.3)
            states.append(random.uniform(low, high, count))
        elif isinstance(state, Accumulator):
            states.append(random.uniform(0.0, 1.0, count))
        else:
            states.append(random.integers(0, 2, count).astype(float))
    site = plain_site(5.0, *random.uniform(0, 1100, count))
    made = model.drive(site, values)
    extra = {"level": random.random(count), "offer": random.uniform(0, 120, count)}
    drives = [made[name] if name in made else extra[name] for name in shape.d_fields]
    parameters = [values[name.rstrip("_")] for name in shape.p_fields]
    return shape, volts, shape.x_type(*states), shape.d_type(*drives), shape.p_type(*parameters)


def _law(model: type[Model], shape: LawShape, volts: list[np.ndarray], x: Any, d: Any, p: Any):
    v = shape.v_type(*volts)
    returned = model.law(v, x, d, p)
    return v, [np.broadcast_to(np.asarray(part, float), volts[0].shape) for part in returned]


@pytest.mark.parametrize(("model", "given"), WITH_LAW)
def test_a_law_is_finite_for_any_voltage_within_400_volts(model, given):
    shape, volts, x, d, p = _inputs(model, given, COUNT, 1)
    with np.errstate(all="raise", under="ignore"):
        _, returned = _law(model, shape, volts, x, d, p)
    assert all(np.all(np.isfinite(part)) for part in returned)


@pytest.mark.parametrize(("model", "given"), WITH_LAW)
def test_a_law_has_no_jumps_in_voltage(model, given):
    shape, volts, x, d, p = _inputs(model, given, COUNT, 2)
    _, before = _law(model, shape, volts, x, d, p)
    for place in range(len(volts)):
        jumps = []
        for step in (1e-4, 1e-6):
            moved = list(volts)
            moved[place] = volts[place] + step
            _, after = _law(model, shape, moved, x, d, p)
            jumps.append([np.abs(b - a) for a, b in zip(before, after, strict=True)])
        for large, small in zip(*jumps, strict=True):
            # A jump would stay as it is when the step is made a hundred times smaller.
            assert np.all(small <= 0.1 * large + 1e-6 * (1.0 + np.abs(before[0])))


@pytest.mark.parametrize(("model", "given"), TAKERS)
def test_no_voltage_no_draw(model, given):
    shape, volts, x, d, p = _inputs(model, given, COUNT, 3)
    _, returned = _law(model, shape, [np.zeros(COUNT) for _ in volts], x, d, p)
    taken = returned if model.kind == "load" else returned[:1]
    assert all(np.all(part == 0.0) for part in taken)


@pytest.mark.parametrize(("model", "given"), WITH_LAW)
def test_floats_and_arrays_give_the_same(model, given):
    shape, volts, x, d, p = _inputs(model, given, 200, 4)
    _, returned = _law(model, shape, volts, x, d, p)
    for place in range(200):
        v1 = shape.v_type(*(float(volt[place]) for volt in volts))
        x1 = shape.x_type(*(float(part[place]) for part in x))
        d1 = shape.d_type(*(float(part[place]) for part in d))
        single = model.law(v1, x1, d1, p)
        for one, many in zip(single, returned, strict=True):
            assert float(one) == pytest.approx(many[place], rel=1e-12, abs=1e-15)


@pytest.mark.parametrize(("model", "given"), WITH_HEAT)
def test_power_taken_is_heat_and_store_to_the_last_digit(model, given):
    shape, volts, x, d, p = _inputs(model, given, COUNT, 5)
    v, i = _law(model, shape, volts, x, d, p)
    heat = model.heat(v, i, x, d, p)
    store = model.store(v, i, x, d, p) if model.store is not None else np.zeros(COUNT)
    watts = i[shape.seek_place] if shape.seek_place >= 0 else np.zeros(COUNT)
    flows = [volt * amps for volt, amps in zip(v, shape.currents(tuple(i)), strict=True)]
    taken = watts + sum(flows)
    scale = np.abs(watts) + sum(np.abs(flow) for flow in flows) + np.abs(store)
    assert np.all(heat >= -1e-12 * scale)
    assert np.all(np.abs(taken - heat - store) <= 1e-12 * scale)


@pytest.mark.parametrize(("model", "given"), LOADS)
def test_a_load_only_takes(model, given):
    shape, volts, x, d, p = _inputs(model, given, COUNT, 6)
    v, i = _law(model, shape, volts, x, d, p)
    assert np.all(v[0] * i[0] >= 0.0)


@pytest.mark.parametrize(("model", "given"), EVERY)
def test_everything_is_explained(model, given):
    assert model.summary
    assert model.leaves_out
    for parameter in model.parameters:
        assert parameter.help
        if getattr(parameter, "required", False) and not hasattr(parameter, "words"):
            assert getattr(parameter, "example", "x")
        if getattr(parameter, "default", None) is not None:
            assert parameter.basis, parameter.name
        if isinstance(parameter, (Parameter, Window)) and parameter.low is not None:
            assert parameter.bound_reason, parameter.name
    assert sum(isinstance(t, Terminal) and t.main for t in model.terminals) == 1
    assert set(model.derive(settled(model, **given))) == set(model.derived)
