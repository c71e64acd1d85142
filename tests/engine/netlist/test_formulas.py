"""Laws become formulas, formulas become text, and the text means what the law computes."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from support.hard_models import Cell, Charger, Eater, Stairs, Supply, Valve
from support.sample_devices import SAMPLES, plain_site, settled
from support.simulator import simulated

from copperpath.netlist.circuit_lines import continued
from copperpath.netlist.expression import CannotBeWritten, Expression, Part, volts
from copperpath.netlist.write_formula import LONGEST, FormulaWriter, number_text
from copperpath.plugin_api import (
    FloatArray,
    Model,
    between,
    constant_current,
    constant_power,
    elementwise,
    table,
    where,
)
from copperpath.solver.shapes import law_shape

OPTIONS = ".options reltol=1e-9 vntol=1e-12 abstol=1e-12 gmin=1e-18"
PLACES = (-40.0, -7.3, -1.0, 0.0, 0.4, 5.0, 9.99, 10.0, 11.7, 13.2, 14.39, 21.3, 60.0)
"""Voltages at which formulas are held against the functions they came from [V]."""


def values_of(formulas: list[Part], places: tuple[float, ...], folder: Path) -> FloatArray:
    """What the simulator makes of formulas of `v(a)` and `v(b)`: one row each, a column for each
    pair of neighbours among the places."""
    lines = ["* formulas"]
    for column, pair in enumerate(zip(places, (*places[1:], places[0]), strict=True)):
        for name, value in zip("ab", pair, strict=True):
            lines.append(f"v{name}{column} {name}{column} 0 {value!r}")
        for row, formula in enumerate(formulas):
            writer = FormulaWriter(f"c{column}r{row}")
            text = writer.text(formula)
            helpers = [f"b{name} {name} 0 v = {helper}" for name, helper in writer.lines]
            for line in [*helpers, f"bo{column}r{row} o{column}r{row} 0 v = {text}"]:
                placed = line.replace("v(a)", f"v(a{column})").replace("v(b)", f"v(b{column})")
                lines += continued(placed)
    found = simulated("\n".join([*lines, OPTIONS, ".op", ".end", ""]), folder)
    return np.array(
        [
            [found[f"v(o{column}r{row})"][0] for column in range(len(places))]
            for row in range(len(formulas))
        ]
    )


def pairs(places: tuple[float, ...]) -> tuple[FloatArray, FloatArray]:
    """The first and the second voltage of each column."""
    return np.array(places), np.array((*places[1:], places[0]))


@elementwise
def squared_twice(v: Any) -> Any:
    return (v**2) ** 2.0


XS, YS = (9.0, 10.0, 13.0, 14.0), (3.0, 1.0, 1.5, -2.0)
FUNCTIONS: dict[str, Callable[[Any, Any], Any]] = {
    "sums and products": lambda a, b: (2.0 * a - b / 4.0 + 1.0) * (3.0 - a) / 7.0,
    "a quotient of voltages": lambda a, b: a / (b * b + 1.0),
    "a whole power of what is negative": lambda a, b: a**3 + b**2 - (0.1 * a) ** -1.0 * 0.0,
    "a root and a broken power": lambda a, b: np.sqrt(np.abs(a)) + (np.abs(b) + 1.0) ** 0.37,
    "a power with a formula above": lambda a, b: 1.01 ** (0.5 * a),
    "exponential and logarithm": lambda a, b: np.exp(-0.1 * np.abs(a)) + np.log(b * b + 2.0),
    "least and most": lambda a, b: np.minimum(a, 10.0) + np.maximum(-a, b),
    "a sign turned round": lambda a, b: -a + abs(b) + +a,
    "a choice": lambda a, b: where((a > 10.0) & (b < 20.0), 2.0 * a, b - 1.0),
    "a choice in a choice": lambda a, b: where(a >= 10.0, where(b <= 5.0, a, 7.0), a * b),
    "either of two": lambda a, b: where((a < 0.0) | (b < 0.0), 1.0, a),
    "a comparison as a number": lambda a, b: 3.0 * (a > b),
    "held between": lambda a, b: between(a, -1.0, 12.0),
    "a table": lambda a, b: table(a, XS, YS),
    "constant power": lambda a, b: constant_power(a, 12.3456789012345, 10.5),
    "constant current": lambda a, b: constant_current(a, 1.0 / 3.0, 10.5),
    "a function of its own": lambda a, b: squared_twice(0.3 * a),
    "numbers from numpy on the left": lambda a, b: np.float64(2.5) * a - np.float64(1.0) / 3.0,
}


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_simulator_computes_what_the_function_does(name: str, tmp_path: Path) -> None:
    function = FUNCTIONS[name]
    formula = function(volts("a"), volts("b"))
    assert isinstance(formula, Expression)
    # At 0 V the inverse in one of them is infinite.
    places = tuple(place for place in PLACES if place != 0.0)
    expected = [function(a, b) for a, b in zip(*pairs(places), strict=True)]
    found = values_of([formula], places, tmp_path)[0]
    np.testing.assert_allclose(found, expected, rtol=1e-9, atol=1e-12)


def test_a_table_is_level_beyond_both_ends(tmp_path: Path) -> None:
    found = values_of([table(volts("a"), XS, YS)], (-100.0, 8.0, 15.0, 300.0), tmp_path)[0]
    np.testing.assert_allclose(found, [3.0, 3.0, -2.0, -2.0], rtol=1e-12)


STATES = {"charge": 0.5, "cell": 285.0, "awake": 1.0}
"""What devices remember: a battery half full and warm, a controller awake."""


def _samples() -> list[tuple[type[Model], dict[str, Any]]]:
    hard: list[tuple[type[Model], dict[str, Any]]] = [
        (Cell, {"rest": 13.1, "ohm": 0.04, "refuses": 1.0}),
        (Supply, {"set": 13.8, "droop": 0.03, "limit": 4.0}),
        (Valve, {"ohm": 0.02}),
        (Eater, {"watts": 11.0, "lowest": 10.2}),
        (Stairs, {"first": 12.0, "more": 5.0, "second": 18.0, "less": 2.0, "slope": 0.3}),
        (
            Charger,
            {"set": 14.4, "droop": 0.02, "limit": 8, "low": 11.5, "span": 0.7, "efficiency": 0.9},
        ),
    ]
    built_in = [(model, dict(given)) for model, given in SAMPLES if model.law is not None]
    return built_in + hard


@pytest.mark.parametrize(
    ("model", "given"), _samples(), ids=lambda value: getattr(value, "name", "")
)
def test_every_models_law_gives_the_simulator_the_same_currents(
    model: type[Model], given: dict[str, Any], tmp_path: Path
) -> None:
    shape, values = law_shape(model), settled(model, **given)
    made = model.drive(plain_site(12.0, 640.0), values) if model.drives else {}
    drives = [float(made[name][0]) if name in made else 0.6 for name in shape.d_fields]
    states = [STATES.get(state.name, 0.0) for state in model.states]
    p = shape.p_type(*(float(values[name.rstrip("_")]) for name in shape.p_fields))
    x, d = shape.x_type(*states), shape.d_type(*drives)
    count = len(shape.v_fields)  # a third stands where the second does, a fourth with the first
    formulas = shape.currents(model.law(shape.v_type(*map(volts, "abba"[:count])), x, d, p))
    expected = [
        shape.currents(model.law(shape.v_type(*(first, second, second, first)[:count]), x, d, p))
        for first, second in zip(*pairs(PLACES), strict=True)
    ]
    found = values_of(formulas, PLACES, tmp_path)
    np.testing.assert_allclose(found, np.array(expected).T, rtol=1e-9, atol=1e-9)


# ---- what formulas keep, shorten and refuse --------------------------------------------------


def test_a_number_of_many_digits_is_written_as_a_sum_of_two_short_ones() -> None:
    text = number_text(13.123456789012345)
    rough, fine = text.strip("()").split("+")
    assert math.isclose(float(rough) + float(fine), 13.123456789012345, rel_tol=1e-15)
    assert len(rough.replace(".", "")) <= 11


def test_a_short_number_is_written_as_it_is() -> None:
    assert number_text(13.2) == "13.2"


def test_what_is_multiplied_by_nothing_is_nothing() -> None:
    assert 0.0 * volts("a") == 0.0


def test_a_choice_that_is_known_leaves_one_branch() -> None:
    a = volts("a")
    assert where(np.True_, a, 0.0) is a


def test_a_formula_that_would_grow_without_end_names_its_repeated_parts(tmp_path: Path) -> None:
    formula: Part = 0.001 * volts("a")
    for _ in range(40):
        formula = 0.5 * (formula + formula * formula / (1.0 + formula))
    writer = FormulaWriter("x")
    assert len(writer.text(formula)) < LONGEST
    assert len(writer.lines) >= 20
    expected = 0.001 * 13.2
    for _ in range(40):
        expected = 0.5 * (expected + expected * expected / (1.0 + expected))
    assert math.isclose(values_of([formula], (13.2,), tmp_path)[0, 0], expected, rel_tol=1e-9)


@pytest.mark.parametrize(
    ("law", "words"),
    [
        (lambda a: np.sin(a), "np.sin"),
        (lambda a: np.clip(a, 0.0, 1.0), "np.clip"),
        (lambda a: 1.0 if a > 3.0 else 2.0, "`if`"),
        (lambda a: 1.0 < a < 3.0, "`1 < a < 3`"),
        (lambda a: where(a == 3.0, 1.0, 2.0), "jump"),
    ],
)
def test_what_no_formula_can_say_is_refused_in_words(law: Callable[[Any], Any], words: str) -> None:
    with pytest.raises(CannotBeWritten, match=words):
        law(volts("a"))


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(CannotBeWritten, match="no number"):
        FormulaWriter("x").text(volts("a") * value)
