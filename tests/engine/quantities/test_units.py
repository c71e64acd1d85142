"""The table of units, held against the general units library, and how values are shown."""

from __future__ import annotations

import math
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities import (
    MEANINGS,
    UnitProblem,
    fits,
    read_measure,
    read_unit,
    show,
    written,
)
from copperpath.quantities.registry import library_name, registry
from copperpath.quantities.units import COMPOUNDS, GAUGE, SYNONYMS, UNITS, near_units

BASES = ("meter", "kilogram", "second", "ampere", "kelvin")
NOT_IN_LIBRARY = [name for name, unit in UNITS.items() if unit.dims == GAUGE]
IN_LIBRARY = sorted(set(UNITS) - set(NOT_IN_LIBRARY))


@pytest.mark.parametrize("name", IN_LIBRARY)
def test_every_unit_has_the_factor_and_dimension_of_the_library(name: str) -> None:
    ours = UNITS[name]
    theirs = registry().Quantity(1.0, library_name(name))
    if ours.dims[5]:
        assert theirs.to("degree").magnitude == pytest.approx(ours.factor, rel=1e-12)
        return
    base = theirs.to_base_units()
    assert base.magnitude == pytest.approx(ours.factor + ours.zero, rel=1e-12)
    powers = {str(unit): power for unit, power in base.unit_items()}
    assert tuple(powers.get(each, 0) for each in BASES) == ours.dims[:5]


@given(
    st.sampled_from(["mV", "Ah", "Wh", "mohm", "ft", "lb", "degF", "min", "kW"]),
    st.floats(-1e6, 1e6),
)
def test_any_amount_is_converted_as_the_library_does(unit: str, amount: float) -> None:
    theirs = registry().Quantity(amount, library_name(unit)).to_base_units().magnitude
    assert read_measure(amount, unit).value == pytest.approx(theirs, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("unit", "words"),
    [
        ("Wh/day", "watt*hour/day"),
        ("mm²", "millimeter**2"),
        ("mm^2", "millimeter**2"),
        ("mm2", "millimeter**2"),
        ("%/K", "percent/kelvin"),
        ("mohm/m", "milliohm/meter"),
        ("W/m²", "watt/meter**2"),
        ("kWh/day", "kilowatt*hour/day"),
    ],
)
def test_compound_units_are_converted_as_the_library_does(unit: str, words: str) -> None:
    theirs = registry().Quantity(1.0, words).to_base_units().magnitude
    assert read_unit(unit).factor == pytest.approx(theirs, rel=1e-12)


def test_unicode_spellings_mean_the_same_as_plain_ones() -> None:
    for plain, unicode in (("mohm", "mΩ"), ("mohm", "m\u2126"), ("uA", "µA"), ("uA", "\u03bcA")):
        assert read_unit(plain) == read_unit(unicode)
    assert read_unit("degC") == read_unit("°C")
    assert read_unit("deg") == read_unit("°")


def test_temperatures_with_their_own_zero_are_points_on_the_scale() -> None:
    assert read_measure(5.0, "degC").value == pytest.approx(278.15)
    assert read_measure(14.0, "degF").value == pytest.approx(263.15)
    assert fits(read_measure(5.0, "degC"), "temperature")
    assert not fits(read_measure(5.0, "degC"), "temperature_difference")
    assert fits(read_measure(5.0, "K"), "temperature_difference")
    assert not fits(read_measure(278.0, "K"), "temperature")


@pytest.mark.parametrize(
    "unit", ["", "blah", "V/", "/V", "W/degC", "m9", "^2", "V^", "m²²", "**", "/"]
)
def test_what_is_no_unit_is_a_problem_and_nothing_else(unit: str) -> None:
    with pytest.raises(UnitProblem):
        read_unit(unit)


@given(st.text(max_size=12))
def test_any_text_is_a_unit_or_a_problem(text: str) -> None:
    try:
        unit = read_unit(text)
    except UnitProblem:
        return
    assert math.isfinite(unit.factor)


@pytest.mark.parametrize(
    ("word", "meant"), [("ah", "Ah"), ("amps", "A"), ("kw", "kW"), ("degc", "degC")]
)
def test_the_nearest_unit_is_proposed(word: str, meant: str) -> None:
    assert near_units(word)[0] == meant


def test_every_proposed_unit_can_be_read() -> None:
    for unit in (*SYNONYMS.values(), *COMPOUNDS):
        read_unit(unit)


def test_every_dimension_has_its_words_and_its_example_fits() -> None:
    assert set(MEANINGS) == set(get_args(Dimension))
    for dimension, meaning in MEANINGS.items():
        number, _, unit = meaning.example.partition(" ")
        if unit:
            assert fits(read_measure(float(number), unit), dimension)


@pytest.mark.parametrize(
    ("value", "dimension", "unit", "text"),
    [
        (12.6, "voltage", "", "12.6 V"),
        (0.035, "resistance", "", "35 mΩ"),
        (9.2 * 3600.0, "charge", "", "9.2 Ah"),
        (-0.003, "share_per_kelvin", "", "−0.30 %/K"),
        (268.15, "temperature", "", "−5 °C"),
        (0.9996, "current", "", "1 A"),
        (0.5, "power", "Wh/day", "12 Wh/day"),
        (72.0 * 3600.0, "time", "", "72 h"),
        (0.15, "share", "", "15 %"),
        (4.0, "number", "", "4"),
        (60.0, "angle", "", "60 °"),
        (0.0, "voltage", "", "0 V"),
        (math.nan, "voltage", "", "not given"),
    ],
)
def test_values_are_shown_with_three_digits_and_a_sensible_unit(
    value: float, dimension: Dimension, unit: str, text: str
) -> None:
    assert show(value, dimension, unit) == text


@given(
    st.sampled_from(["voltage", "current", "power", "resistance", "charge", "energy", "mass"]),
    st.floats(1e-4, 1e6),
)
def test_what_is_written_reads_back_within_its_three_digits(
    dimension: Dimension, value: float
) -> None:
    number, unit = written(value, dimension).split()
    assert read_measure(float(number), unit).value == pytest.approx(value, rel=6e-3)
