"""The parts that come along: built, explained, and within what is known of their kinds."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from importlib.metadata import entry_points
from itertools import pairwise
from pathlib import Path
from zipfile import ZipFile

import pytest
from support.building import build_text
from support.library_parts import (
    WIRING,
    LibraryPart,
    library_parts,
    library_texts,
    parts_of,
    station_using,
)

from copperpath.catalogue import installed_catalogue
from copperpath_grammar import parse
from copperpath_grammar.nodes import LetNode, PartNode
from copperpath_plugins.loads.transceiver import Transceiver

ROOT = Path(__file__).parents[2]
TEXTS = library_texts()
AMPERE_HOUR = 3600.0
NUMBER = r"(\d+(?:\.\d+)?)"
SOURCE_CLASS = re.compile(r"from memory|common practice, no source|\b(19|20)\d\d\b")

each_part = pytest.mark.parametrize("part", library_parts(), ids=str)


def _value(part: LibraryPart, name: str) -> float:
    return float(part.device.values[name])


def _mass(part: LibraryPart) -> float:
    assert part.device.mass_kg is not None
    return part.device.mass_kg


def _in_name(part: LibraryPart, unit: str) -> float:
    """The figure that a name carries: 100 in `panel_100w`, `hf_100w_at_20w` and `lfp_100ah`."""
    found = re.search(rf"_{NUMBER}{unit}(_|$)", part.sheet.name)
    assert found, part.sheet.name
    return float(found[1])


def _range(part: LibraryPart, words: str, unit: str) -> tuple[float, float] | None:
    found = re.search(rf"(?:{words}) {NUMBER} to {NUMBER} {unit}(?!\w)", part.sheet.range)
    return (float(found[1]), float(found[2])) if found else None


# ---- files ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", TEXTS)
def test_a_part_file_has_parts_and_named_values_and_nothing_else(name: str) -> None:
    parsed = parse(TEXTS[name])
    assert parsed.diagnostics == ()
    assert parsed.file is not None
    assert parsed.file.statements
    assert all(isinstance(each, PartNode | LetNode) for each in parsed.file.statements)


@pytest.mark.parametrize("name", TEXTS)
def test_a_station_that_uses_every_part_of_a_file_is_built_without_a_mistake(name: str) -> None:
    result = build_text(station_using(TEXTS[name]))
    assert [each.message for each in result.diagnostics] == []


def test_every_part_file_is_listed_for_include_library_under_its_name() -> None:
    listed = {
        point.name: point.value
        for point in entry_points(group="copperpath.parts")
        if point.dist is not None and point.dist.name == "copperpath"
    }
    assert listed == {name: f"copperpath_plugins.library:{name}.station" for name in TEXTS}


def test_no_name_stands_in_two_files_nor_is_that_of_a_model() -> None:
    names = [part.sheet.name for part in library_parts()]
    assert len(names) == len({name.lower() for name in names})
    assert not set(names) & set(installed_catalogue().names)


def test_every_model_that_comes_along_has_a_part() -> None:
    assert {part.sheet.model for part in library_parts()} == set(WIRING)


def test_the_wheel_contains_every_part_file(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    (wheel,) = tmp_path.glob("*.whl")
    with ZipFile(wheel) as packed:
        for name, text in TEXTS.items():
            inside = f"copperpath_plugins/library/{name}.station"
            assert packed.read(inside).decode("utf-8") == text


# ---- remarks --------------------------------------------------------------------------------


@each_part
def test_a_part_says_what_it_stands_for_and_has_a_mass(part: LibraryPart) -> None:
    assert len(part.sheet.what.split()) >= 3
    assert part.device.mass_kg is not None


@each_part
def test_a_part_states_a_range_with_units_and_a_class_of_source(part: LibraryPart) -> None:
    assert re.search(rf"{NUMBER} to {NUMBER} \S", part.sheet.range)
    assert SOURCE_CLASS.search(part.sheet.source)


@each_part
def test_a_mass_lies_in_the_middle_of_its_stated_range(part: LibraryPart) -> None:
    """More than a fifth of the range away from either end."""
    for unit, kilograms in (("kg", 1.0), ("g", 1e-3)):
        stated = _range(part, "mass", unit)
        if stated:
            low, high = (kilograms * end for end in stated)
            assert low + 0.2 * (high - low) < _mass(part) < high - 0.2 * (high - low)


READ_BACK = (
    ("transceiver", "transmit", "transmit|sending", "A", 1.0),
    ("transceiver", "receive", "receive|idle|waiting", "A", 1.0),
    ("transceiver", "key_up", "keyed without speech", "A", 1.0),
    ("lfp", "resistance", "resistance", "mohm", 1e-3),
    ("lfp", "charge_limit", "takes", "A", 1.0),
    ("lead_acid", "resistance", "resistance", "mohm", 1e-3),
    ("fuse", "resistance", "cold", "mohm", 1e-3),
    ("breaker", "resistance", "cold", "mohm", 1e-3),
    ("shunt_meter", "draw", "own draw", "mA", 1e-3),
    ("shunt_meter", "shunt", "shunt", "mohm", 1e-3),
    ("accessory_socket", "contact", "contacts", "mohm", 1e-3),
    ("photovoltaic", "vmp", "working voltage", "V", 1.0),
    ("photovoltaic", "voc", "open circuit", "V", 1.0),
    ("photovoltaic", "imp", "working current", "A", 1.0),
    ("mppt_charger", "max_input", "panel side", "V", 1.0),
    ("mppt_charger", "efficiency", "efficiency", "%", 0.01),
    ("mppt_charger", "idle", "own draw", "mA", 1e-3),
    ("pwm_charger", "idle", "own draw", "mA", 1e-3),
    ("mains_charger", "idle", "idle", "W", 1.0),
    ("dc_charger", "idle", "own draw", "mA", 1e-3),
    ("step_down", "efficiency", "efficiency", "%", 0.01),
    ("step_down", "idle", "own draw", "mA", 1e-3),
    ("usb_c_supply", "efficiency", "efficiency", "%", 0.01),
    ("usb_c_supply", "idle", "own draw", "mA", 1e-3),
    ("voltage_booster", "efficiency", "efficiency", "%", 0.01),
    ("voltage_booster", "idle", "own draw", "mA", 1e-3),
    ("voltage_booster", "bypass_drop", "bypass", "V", 1.0),
    ("step_up", "efficiency", "efficiency", "%", 0.01),
    ("step_up", "idle", "own draw", "mA", 1e-3),
    ("inverter", "idle", "idle", "W", 1.0),
    ("generator", "tank", "tank", "litres", 1e-3),
)
"""Model, value, words before the range, unit, and that unit in SI."""


@pytest.mark.parametrize(("model", "name", "words", "unit", "si"), READ_BACK)
def test_a_figure_lies_within_its_stated_range(
    model: str, name: str, words: str, unit: str, si: float
) -> None:
    stated = [(part, _range(part, words, unit)) for part in parts_of(model)]
    ranges = [(part, found) for part, found in stated if found]
    assert ranges, "no part of this model states such a range"
    for part, (low, high) in ranges:
        assert low * si <= _value(part, name) * (1 + 1e-12) <= high * si * (1 + 2e-12), part


# ---- panels ---------------------------------------------------------------------------------

PANELS = parts_of("photovoltaic")


@pytest.mark.parametrize("part", PANELS, ids=str)
def test_a_panels_power_is_that_of_its_name_and_of_its_volts_and_amperes(part: LibraryPart) -> None:
    assert _value(part, "power") == _in_name(part, "w")
    assert _value(part, "vmp") * _value(part, "imp") == pytest.approx(_value(part, "power"), 0.03)


@pytest.mark.parametrize("part", PANELS, ids=str)
def test_a_panels_curve_is_as_square_as_is_usual(part: LibraryPart) -> None:
    """Common practice, no source; crystalline modules of the CEC list, 2019, lie inside as well."""
    assert 1.15 <= _value(part, "voc") / _value(part, "vmp") <= 1.30
    assert 1.03 <= _value(part, "isc") / _value(part, "imp") <= 1.15


@pytest.mark.parametrize("family", ["blanket", "panel", "thin_film_blanket"])
def test_a_larger_panel_is_heavier(family: str) -> None:
    kin = [each for each in PANELS if each.sheet.name.startswith(f"{family}_")]
    assert len(kin) >= 2
    for smaller, larger in pairwise(sorted(kin, key=lambda each: _value(each, "power"))):
        assert _mass(smaller) < _mass(larger)


# ---- batteries ------------------------------------------------------------------------------

BATTERIES = parts_of("lfp", "lead_acid")
WATT_HOURS_PER_KG = {"lfp": (90.0, 160.0), "lead_acid": (30.0, 50.0)}
"""Wikipedia's article on lithium iron phosphate batteries; lead-acid common practice, no source."""
NOMINAL_CELL_V = {"lfp": 3.2, "lead_acid": 2.0}


@pytest.mark.parametrize("part", BATTERIES, ids=str)
def test_a_batterys_charge_is_that_of_its_name(part: LibraryPart) -> None:
    assert _value(part, "capacity") == pytest.approx(_in_name(part, "ah") * AMPERE_HOUR)


@pytest.mark.parametrize("part", BATTERIES, ids=str)
def test_a_battery_holds_for_its_mass_what_its_chemistry_can(part: LibraryPart) -> None:
    model = part.sheet.model
    watt_hours = _in_name(part, "ah") * _value(part, "cells") * NOMINAL_CELL_V[model]
    low, high = WATT_HOURS_PER_KG[model]
    assert low <= watt_hours / _mass(part) <= high


@pytest.mark.parametrize("family", ["lfp", "agm", "gel", "flooded"])
def test_a_larger_battery_is_heavier_and_has_less_resistance(family: str) -> None:
    kin = [each for each in BATTERIES if re.match(rf"{family}_\d+ah", each.sheet.name)]
    assert len(kin) >= 2
    for smaller, larger in pairwise(sorted(kin, key=lambda each: _value(each, "capacity"))):
        assert _mass(smaller) < _mass(larger)
        assert _value(smaller, "resistance") > _value(larger, "resistance")


@pytest.mark.parametrize("part", parts_of("lfp"), ids=str)
def test_a_lithium_battery_takes_between_a_fifth_of_its_charge_and_half_of_it_in_an_hour(
    part: LibraryPart,
) -> None:
    """0.2 to 0.5 C is common practice, no source."""
    assert 0.2 <= _value(part, "charge_limit") / _in_name(part, "ah") <= 0.5


RATE_EXPONENTS = {"agm": (1.05, 1.15), "gel": (1.1, 1.25), "flooded": (1.2, 1.6)}
"""A battery retailer's published table."""


@pytest.mark.parametrize("part", parts_of("lead_acid"), ids=str)
def test_a_lead_acid_batterys_rate_exponent_is_one_of_its_kind(part: LibraryPart) -> None:
    low, high = RATE_EXPONENTS[part.sheet.name.split("_")[0]]
    assert low <= _value(part, "rate_exponent") <= high


# ---- radios ---------------------------------------------------------------------------------

RADIOS = parts_of("transceiver")
TURNED_DOWN = [each for each in RADIOS if "_at_" in each.sheet.name]


def _full(part: LibraryPart) -> LibraryPart:
    """The same radio at full power."""
    name = part.sheet.name.split("_at_")[0]
    return next(each for each in RADIOS if each.sheet.name == name)


def _share(part: LibraryPart) -> float:
    """Its power as a share of full power, from the names."""
    low = re.search(r"_at_(\d+)w$", part.sheet.name)
    assert low
    return float(low[1]) / _in_name(_full(part), "w")


def _bias(part: LibraryPart) -> float:
    """What it draws keyed without output; on FM about the receive current [A]."""
    keyed = _value(part, "key_up")
    return _value(part, "receive") if math.isnan(keyed) else keyed


@pytest.mark.parametrize("part", TURNED_DOWN, ids=str)
def test_a_turned_down_radio_draws_by_the_square_root_of_its_power(part: LibraryPart) -> None:
    """Bias and the rest by the square root of the power: common practice, no source."""
    full, bias = _full(part), _bias(part)
    expected = bias + (_value(full, "transmit") - bias) * math.sqrt(_share(part))
    assert _value(part, "transmit") == pytest.approx(expected, rel=0.10)


@pytest.mark.parametrize("part", TURNED_DOWN, ids=str)
def test_half_power_is_not_half_current(part: LibraryPart) -> None:
    ratio = _value(part, "transmit") / _value(_full(part), "transmit")
    assert _share(part) < ratio < 1.0


def test_a_hundred_watt_radio_at_five_watts_draws_about_what_was_measured_once() -> None:
    """6.9 A for about 5 W: one practitioner's measurement."""
    part = next(each for each in RADIOS if each.sheet.name == "hf_100w_at_5w")
    assert _value(part, "transmit") == pytest.approx(6.9, rel=0.10)


@pytest.mark.parametrize("part", RADIOS, ids=str)
def test_a_radio_draws_least_switched_off_and_most_when_keyed(part: LibraryPart) -> None:
    assert _value(part, "standby") < _value(part, "receive") <= _bias(part)
    assert _bias(part) < _value(part, "transmit")


@pytest.mark.parametrize("part", [each for each in RADIOS if each not in TURNED_DOWN], ids=str)
def test_a_radio_at_full_power_sends_a_fifth_to_a_half_of_what_it_takes(part: LibraryPart) -> None:
    """At 13.8 V; from memory, as linear stages reach 40 to 60 % and the rest takes its share."""
    assert 0.2 <= _in_name(part, "w") / (13.8 * _value(part, "transmit")) <= 0.5


@pytest.mark.parametrize("part", RADIOS, ids=str)
def test_a_radio_works_at_13v8_and_down_to_11v7_at_least(part: LibraryPart) -> None:
    """13.8 V plus or minus 15 %, as equipment handbooks usually state: 11.73 V to 15.87 V."""
    assert _value(part, "works_low") <= 11.73
    assert _value(part, "works_high") > 14.6


def test_radios_turned_down_differ_from_full_power_by_their_transmit_current_alone() -> None:
    for part in TURNED_DOWN:
        names = {each.name for each in Transceiver.parameters} - {"transmit", "works"}
        for name in names | {"works_low", "works_high"}:
            mine, full = part.device.values[name], _full(part).device.values[name]
            assert mine == full or (mine != mine and full != full), f"{part}: {name}"


# ---- what charges ---------------------------------------------------------------------------

COLDEST_FACTOR = 1.25
"""NEC table 690.7(A), -36 to -40 degC, crystalline silicon."""


@pytest.mark.parametrize("part", parts_of("mppt_charger", "pwm_charger"), ids=str)
def test_a_controller_stands_one_panel_of_36_cells_at_40_below(part: LibraryPart) -> None:
    panel = next(each for each in PANELS if each.sheet.name == "panel_100w")
    assert _value(panel, "voc") * COLDEST_FACTOR < _value(part, "max_input")


@pytest.mark.parametrize(
    "part", parts_of("mppt_charger", "pwm_charger", "mains_charger", "dc_charger"), ids=str
)
def test_a_charger_holds_what_its_battery_wants(part: LibraryPart) -> None:
    """14.2 to 14.6 V for lithium iron phosphate, 14.4 to 14.7 V and then 13.5 to 13.8 V for AGM:
    common practice, no source."""
    assert _value(part, "output_limit") == _in_name(part, "a")
    assert (part.device.values["profile"] == "lead_acid") == part.sheet.name.endswith("_agm")
    if part.device.values["profile"] == "lead_acid":
        assert 14.4 <= _value(part, "absorb") <= 14.7
        assert 13.5 <= _value(part, "float") <= 13.8
    else:
        assert 14.2 <= _value(part, "absorb") <= 14.6


@pytest.mark.parametrize(
    "model", ["mppt_charger", "pwm_charger", "mains_charger", "dc_charger", "inverter"]
)
def test_a_converter_for_more_current_or_power_is_heavier(model: str) -> None:
    rated = "rating" if model == "inverter" else "output_limit"
    kin = [each for each in parts_of(model) if not each.sheet.name.endswith("_agm")]
    assert len(kin) >= 2
    for smaller, larger in pairwise(sorted(kin, key=lambda each: _value(each, rated))):
        assert _mass(smaller) < _mass(larger)


PETROL_WATT_HOURS = 8900.0
"""Heat of a litre of petrol: 32 MJ, from memory."""


@pytest.mark.parametrize("part", parts_of("generator"), ids=str)
def test_a_generator_turns_a_tenth_to_a_quarter_of_its_fuel_into_power(part: LibraryPart) -> None:
    """At its rating; from memory, for small petrol engines."""
    watts = _value(part, "rating")
    litres = _litres_an_hour(part) + _litres_a_kilowatt_hour(part) * watts / 1000.0
    assert 0.10 <= watts / (litres * PETROL_WATT_HOURS) <= 0.25


@pytest.mark.parametrize("part", parts_of("generator"), ids=str)
def test_a_generator_burns_what_small_ones_do(part: LibraryPart) -> None:
    """0.15 to 0.3 litres an hour and 0.4 to 0.5 for each kilowatt: common practice, no source."""
    assert 0.15 <= _litres_an_hour(part) <= 0.3
    assert 0.4 <= _litres_a_kilowatt_hour(part) <= 0.5


def _litres_an_hour(part: LibraryPart) -> float:
    return 1e3 * 3600.0 * _value(part, "fuel_idle")


def _litres_a_kilowatt_hour(part: LibraryPart) -> float:
    return 1e3 * 3.6e6 * _value(part, "fuel_per_kilowatt")


# ---- blocks ---------------------------------------------------------------------------------


def test_a_larger_fuse_has_less_resistance_and_loses_about_the_same_volts() -> None:
    """Cold, 50 to 100 mV at the rating, from memory; makers' data have 75 to 96 mV warm for
    fuses of 25 and 40 A, and warm is up to 1.7 times as much."""
    fuses = sorted(parts_of("fuse"), key=lambda each: _value(each, "rating"))
    for smaller, larger in pairwise(fuses):
        assert _value(smaller, "resistance") > _value(larger, "resistance")
    for each in fuses:
        assert _value(each, "rating") == _in_name(each, "a")
        assert 0.05 <= _value(each, "rating") * _value(each, "resistance") <= 0.10


@pytest.mark.parametrize("part", parts_of("strip"), ids=str)
def test_a_strip_has_the_ways_of_its_name(part: LibraryPart) -> None:
    assert part.sheet.name == f"strip_{_value(part, 'ways'):.0f}"
