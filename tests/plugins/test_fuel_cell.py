"""A fuel cell: its curve through two points, its fuel by heating value and efficiency."""

from __future__ import annotations

import math
from typing import Any

import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, settled, signals_at

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.sources.fuel_cell import HEATING_VALUES, FuelCell

CELL: dict[str, Any] = {
    "voltage": 13.6,
    "open_voltage": 19.0,
    "current": 3.5,
    "burns": "methanol",
    "tank": 5e-3,
}


@pytest.mark.parametrize("early", [0.0, 0.5, 0.8])
@pytest.mark.parametrize("amps", [0.01, 0.5, 2.0, 3.4])
def test_a_current_stands_at_the_voltage_of_tafels_line_and_a_resistance(
    amps: float, early: float
) -> None:
    """The voltage at that current worked out here; the law must balance there."""
    values = settled(FuelCell, **CELL, early=early)
    slope = 0.06 * 19.0 / 0.95
    exchange = 3.5 / math.expm1(max(early * 5.4, 1e-3 * slope) / slope)
    stack = 19.0 - slope * math.log1p(amps / exchange)
    line = stack - (1.0 - early) * 5.4 / 3.5 * amps
    leads, inside = law_at(FuelCell, values, (line, stack), (1.0, 0.0), (1.0,))
    assert leads == pytest.approx(-amps + 1e-4 * line, rel=1e-6)
    assert inside == pytest.approx(1e-4 * stack, rel=1e-6)


def test_its_rated_current_stands_at_its_rated_voltage() -> None:
    values = settled(FuelCell, **CELL)
    stack = 13.6 + values["ohm"] * 3.5
    leads, inside = law_at(FuelCell, values, (13.6, stack), (1.0, 0.0), (1.0,))
    assert leads == pytest.approx(-3.5 + 1e-4 * 13.6, rel=1e-9)
    assert inside == pytest.approx(1e-4 * stack, rel=1e-6)


@pytest.mark.parametrize(("fuel", "runs"), [(0.0, 1.0), (1.0, 0.0)])
def test_without_fuel_or_outside_its_hours_it_makes_nothing(fuel: float, runs: float) -> None:
    values = settled(FuelCell, **CELL)
    assert law_at(FuelCell, values, (12.0, 0.0), (fuel, 0.0), (runs,)) == (
        pytest.approx(1.2e-3),
        pytest.approx(0.0),
    )


@pytest.mark.parametrize(
    ("fuel", "joules_a_m3"),
    [
        # Formed: CO2 -393.51, H2O vapour -241.826 kJ/mol (CODATA); CH4O -239.1, 32.04 g/mol,
        # 0.7866 kg/L at 25 °C; C3H8 -104.7, 44.10 g/mol, 0.508 kg/L at 15 °C.
        ("methanol", (393.51 + 2 * 241.826 - 239.1) / 32.042 * 786.6e6),
        ("propane", (3 * 393.51 + 4 * 241.826 - 104.7) / 44.096 * 508e6),
        ("hydrogen", 241.826e3 / 22.414e-3),
    ],
)
def test_heating_values_follow_from_the_enthalpies_of_formation(
    fuel: str, joules_a_m3: float
) -> None:
    assert HEATING_VALUES[fuel] == pytest.approx(joules_a_m3, rel=0.01)


def test_a_litre_of_methanol_gives_about_a_kilowatt_hour_at_rated_current() -> None:
    """0.22 of 15.7 MJ are 0.96 kWh; 5 litres last 4.8 kWh less what pumps and fans use."""
    values = settled(FuelCell, **CELL, own_use=0.0)
    stack = 13.6 + values["ohm"] * 3.5
    rate = signals_at(FuelCell, values, (13.6, stack), (1.0, 0.0), (1.0,))[0]
    hours = -1.0 / rate / 3600.0
    assert hours * 13.6 * 3.5 == pytest.approx(0.22 * 15.7e6 * 5 / 3600.0, rel=1e-6)


def test_what_it_uses_itself_empties_the_tank_without_any_load() -> None:
    values = settled(FuelCell, **CELL, own_use=4.0)
    rate = signals_at(FuelCell, values, (19.0, 19.0), (1.0, 0.0), (1.0,))[0]
    assert -rate * 5e-3 * 0.22 * 15.7e9 == pytest.approx(4.0, rel=1e-6)


def test_an_open_voltage_that_is_not_higher_is_refused() -> None:
    with pytest.raises(ParameterProblem) as caught:
        settled(FuelCell, **(CELL | {"open_voltage": 13.7}))
    assert caught.value.parameter == "open_voltage"


def test_it_charges_a_battery_until_its_tank_is_dry() -> None:
    text = """station "Hut" {
        place 46.6 N, 10.3 E, 800 m
        starts 2026-06-19 06:00 +01:00
        lasts 24 h
        sky clear
        air 15 degC .. 15 degC
    }
    source cell : fuel_cell {
        voltage 13.6 V; open_voltage 19 V; current 3.5 A; burns methanol; tank 0.4 L
        on 08:00 to 24:00
    }
    storage pack : lfp { capacity 100 Ah; charge 30 % }
    load rig : steady { current 1 A; works 10.5 V .. 15 V }
    cable cell -> pack { length 2 m; wire 4 mm2; fuse 10 A at pack }
    cable pack -> rig { length 2 m; wire 2.5 mm2; fuse 5 A at pack }
    """
    run = solved_by_both(text, 600.0)
    amps = -amps_into(run, "cell")
    assert abs(amps[6]) < 0.01
    assert amps[20] == pytest.approx(3.5, abs=0.2)
    dry = first_time(remembered(run, "cell", "dry") > 0.5)
    # 0.4 L hold 0.384 kWh at 22 %, and the cell takes 47.6 + 3 W: 7.6 hours from 08:00.
    assert dry == pytest.approx(12 + 7.6 * 6, abs=3)
    assert abs(amps[dry + 2]) < 0.01
    assert imbalance(run) < 1e-6
