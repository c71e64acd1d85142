"""Units of the United States: stations written in them; their factors are held against NIST SP 811
in `checks/units.py`, here their dimensions."""

from __future__ import annotations

import pytest
from support.building import SMALL, codes_of, station_of
from support.outside_data import rows_of

from copperpath.quantities import read_measure

ROWS = rows_of("us_units.csv")
FOOT, INCH, POUND = 0.3048, 0.0254, 0.45359237
GALLON = 231.0 * INCH**3
"""NIST SP 811, appendix B.8: 231 cubic inches."""


def kelvin(fahrenheit: float) -> float:
    """NIST SP 811, appendix B.8: T/K = (t/degF + 459.67) / 1.8."""
    return (fahrenheit + 459.67) / 1.8


@pytest.mark.parametrize("row", ROWS, ids=[row["unit"] for row in ROWS])
def test_a_unit_measures_what_nist_says_it_does(row: dict[str, str]) -> None:
    assert read_measure(1.0, row["unit"]).dims == read_measure(1.0, row["si_unit"]).dims


@pytest.mark.parametrize("fahrenheit", [-40.0, 0.0, 32.0, 98.6])
def test_degrees_fahrenheit_are_what_nist_says_they_are(fahrenheit: float) -> None:
    assert read_measure(fahrenheit, "degF").value == pytest.approx(kelvin(fahrenheit), rel=1e-12)
    assert read_measure(fahrenheit, "°F") == read_measure(fahrenheit, "degF")


def test_a_gallon_is_four_quarts_and_a_pound_sixteen_ounces() -> None:
    assert read_measure(4.0, "qt").value == pytest.approx(GALLON, rel=1e-12)
    assert read_measure(16.0, "oz").value == pytest.approx(POUND, rel=1e-12)


@pytest.mark.parametrize("word", ["ft", "foot", "feet"])
def test_a_cable_is_measured_in_feet(word: str) -> None:
    (cable,) = station_of(SMALL.replace("length 1 m", f"length 4 {word}")).cables
    assert cable.length_m == pytest.approx(4 * FOOT, rel=1e-12)


@pytest.mark.parametrize("word", ["in", "inch", "inches"])
def test_a_fuse_sits_within_so_many_inches(word: str) -> None:
    (cable,) = station_of(SMALL.replace("at pack }", f"at pack within 7 {word} }}")).cables
    assert cable.fuses[0].within_m == pytest.approx(7 * INCH, rel=1e-12)


@pytest.mark.parametrize(("written", "kg"), [("3 lb", 3 * POUND), ("5 oz", 5 * POUND / 16)])
def test_a_device_weighs_so_many_pounds_or_ounces(written: str, kg: float) -> None:
    text = SMALL.replace("capacity 12 Ah", f"capacity 12 Ah; mass {written}")
    assert station_of(text).device("pack").mass_kg == pytest.approx(kg, rel=1e-12)


def test_air_batteries_and_copper_have_degrees_fahrenheit() -> None:
    text = SMALL.replace("8 degC .. 19 degC", "40 degF .. 70 degF")
    text = text.replace("12 Ah }", "12 Ah; temperature 50 °F }")
    text = text.replace("1.5 mm2;", "1.5 mm2; conductor_temperature 104 degF; insulation 221 degF;")
    station = station_of(text)
    assert station.site.air_low_k == pytest.approx(kelvin(40.0))
    assert station.site.air_high_k == pytest.approx(kelvin(70.0))
    assert station.device("pack").values["temperature"].fixed_k == pytest.approx(kelvin(50.0))
    # 104 °F are 40 °C, 221 °F are 105 °C.
    assert station.cables[0].wire_ohm == pytest.approx(0.0266 * (1 + 0.00393 * 20))
    assert station.cables[0].facts.insulation_k == pytest.approx(378.15)


def test_a_place_has_its_height_in_feet() -> None:
    station = station_of(SMALL.replace("140 m", "460 ft"))
    assert station.site.altitude_m == pytest.approx(460 * FOOT, rel=1e-12)


GENSET = """source genset : generator {{ rating 1 kW; on 17:00 to 21:00; {} }}
converter charger : mains_charger {{ output_limit 10 A }}
cable genset.output -> charger.mains {{ length 10 m; wire 1.5 mm2 }}
cable charger.battery -> pack {{ length 1 m; wire 2.5 mm2; fuse 15 A at pack }}
cable genset.sense -> pack {{ length 10 m; wire 0.75 mm2; fuse 3 A at pack }}
"""


@pytest.mark.parametrize(
    ("written", "litres"), [("3 L", 3.0), ("1 gal", 3.785411784), ("2 qt", 1.892705892)]
)
def test_a_tank_holds_so_many_litres_gallons_or_quarts(written: str, litres: float) -> None:
    genset = station_of(SMALL + GENSET.format(f"tank {written}")).device("genset")
    assert genset.values["tank"] == pytest.approx(1e-3 * litres, rel=1e-12)


def test_an_engine_burns_so_many_gallons_an_hour() -> None:
    text = SMALL + GENSET.format("fuel_idle 0.05 gal/h; fuel_per_kilowatt 0.13 gal/kWh")
    values = station_of(text).device("genset").values
    assert values["fuel_idle"] == pytest.approx(0.05 * GALLON / 3600.0, rel=1e-12)
    assert values["fuel_per_kilowatt"] == pytest.approx(0.13 * GALLON / 3.6e6, rel=1e-12)


def test_a_tank_needs_its_unit() -> None:
    assert codes_of(SMALL + GENSET.format("tank 3")) == ["build/wrong-dimension"]
