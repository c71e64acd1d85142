"""Standard wires and fuses, and what a cable may carry by the factors of its table."""

from __future__ import annotations

import math

import pytest
from support.building import DEVICES, SITE, station_of

from copperpath.station import Cable
from copperpath.wiring.ampacity import ampacity_of
from copperpath.wiring.boat_formula import CIRCULAR_MIL_M2, needed_area, smallest_gauge
from copperpath.wiring.standard_fuses import largest_rating, next_rating, ratings_of
from copperpath.wiring.standard_sizes import (
    conductor_of,
    larger_sizes,
    relaid,
    resized,
    series_of,
)

WARM = 303.15


def cable(entries: str) -> Cable:
    text = SITE + DEVICES + f"cable pack -> rig {{ {entries} }}\n"
    return station_of(text).cables[0]


def amps(entries: str, air_k: float = WARM, kind: str = "craft") -> float:
    found = ampacity_of(cable(entries), air_k, kind)
    assert found is not None
    return found.amps


def test_a_gauge_stays_among_gauges_and_a_metric_size_among_metric_ones() -> None:
    assert larger_sizes(cable("length 1 m; wire 2 AWG")) == (
        "1 AWG",
        "1/0 AWG",
        "2/0 AWG",
        "3/0 AWG",
        "4/0 AWG",
    )
    assert larger_sizes(cable("length 1 m; wire 70 mm2")) == ("95 mm2", "120 mm2")


def test_a_size_between_two_standard_ones_grows_to_the_next() -> None:
    assert larger_sizes(cable("length 1 m; wire 3 mm2"))[0] == "4 mm2"


def test_a_cable_without_a_size_has_no_larger_one_and_no_ampacity() -> None:
    bare = cable("length 1 m")
    assert larger_sizes(bare) == ()
    assert ampacity_of(bare, WARM) is None


@pytest.mark.parametrize("name", [*series_of("1 AWG"), *series_of("1 mm2")])
def test_every_standard_size_is_the_name_of_a_conductor(name: str) -> None:
    assert conductor_of(name).name == name


def test_twice_the_copper_has_half_the_resistance_of_the_same_length() -> None:
    thin = cable("length 3 m; wire 2.5 mm2; fuse 5 A at pack")
    thick = resized(thin, "10 mm2")
    # 7.98 and 1.91 ohm/km of class 5 copper, IEC 60228.
    assert thick.wire_ohm / thin.wire_ohm == pytest.approx(1.91 / 7.98, rel=1e-9)
    assert thick.fuses == thin.fuses


def test_a_cable_of_another_size_is_as_warm_as_it_was() -> None:
    warm = resized(cable("length 3 m; wire 1.5 mm2; conductor_temperature 70 degC"), "2.5 mm2")
    assert warm.wire_ohm == pytest.approx(6 * 7.98e-3 * (1 + 0.00393 * 50.0), rel=1e-9)


def test_half_the_length_has_half_the_resistance_and_half_the_mass() -> None:
    whole = cable("length 3 m; wire 2.5 mm2")
    half = relaid(whole, 1.5)
    assert whole.mass_kg is not None
    assert half.wire_ohm == pytest.approx(0.5 * whole.wire_ohm)
    assert half.mass_kg == pytest.approx(0.5 * whole.mass_kg)


def test_insulation_that_is_not_told_counts_as_sixty_degrees() -> None:
    """35 A of 14 AWG at 105 degC (33 CFR 183.425); what is left of its warming is 30 of 75 K."""
    assert amps("length 1 m; wire 14 AWG") == pytest.approx(35.0 * math.sqrt(30 / 75))
    assert amps("length 1 m; wire 14 AWG; insulation 105 degC") == pytest.approx(35.0)


def test_insulation_above_that_of_the_table_carries_no_more() -> None:
    assert amps("length 1 m; wire 14 AWG; insulation 200 degC") == pytest.approx(35.0)


def test_air_as_hot_as_the_insulation_stands_leaves_nothing() -> None:
    assert amps("length 1 m; wire 14 AWG", air_k=273.15 + 60.0) == 0.0
    assert amps("length 1 m; wire 14 AWG", air_k=273.15 + 90.0) == 0.0


def test_cold_air_lets_a_cable_carry_no_more_than_air_of_thirty_degrees() -> None:
    assert amps("length 1 m; wire 14 AWG", air_k=243.15) == amps("length 1 m; wire 14 AWG")


def test_copper_clad_aluminium_carries_the_root_of_its_conductance() -> None:
    share = amps("length 1 m; wire 14 AWG; copper_clad") / amps("length 1 m; wire 14 AWG")
    assert share == pytest.approx(math.sqrt(1 / 1.6), abs=0.001)


@pytest.mark.parametrize("kind", ["craft", "building", "cord"])
def test_thicker_wire_carries_more_in_every_table(kind: str) -> None:
    for name in ("1 AWG", "1 mm2"):
        carried = [amps(f"length 1 m; wire {size}", kind=kind) for size in series_of(name)]
        assert carried == sorted(carried)


@pytest.mark.parametrize("kind", [None, "blade", "bolt_down", "class_t", "glass", "ceramic"])
def test_ratings_of_fuses_rise(kind: str | None) -> None:
    ratings = ratings_of(kind)
    assert list(ratings) == sorted(set(ratings))


def test_the_next_fuse_is_not_below_and_the_largest_not_above() -> None:
    assert next_rating("blade", 10.1) == 15.0
    assert next_rating("blade", 10.0) == 10.0
    assert largest_rating("blade", 14.9) == 10.0
    assert next_rating("glass", 31.0) is None
    assert largest_rating("bolt_down", 29.0) is None


def test_the_boat_formula_is_k_times_amps_times_feet_over_volts() -> None:
    """10 A over 20 ft out and back with 0.36 V to lose: 10.75 · 10 · 20 / 0.36 circular mils."""
    mils = needed_area(10.0, 20 * 0.3048, 0.36) / CIRCULAR_MIL_M2
    assert mils == pytest.approx(5972.2, abs=0.1)
    assert smallest_gauge(mils * CIRCULAR_MIL_M2) == 12


def test_no_gauge_has_as_much_copper_as_is_needed_for_a_very_long_lead() -> None:
    assert smallest_gauge(1e-3) is None
