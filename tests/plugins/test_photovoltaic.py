"""The panel's curve against its label."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from support.panel_curve import panel_amps
from support.sample_devices import plain_site, settled

from copperpath.plugin_api import Mount, ParameterProblem
from copperpath.solver.shapes import law_shape
from copperpath_plugins.sources.label_fit import (
    Label,
    at_temperature,
    fit_label,
    most_power,
)
from copperpath_plugins.sources.panel_curve import cell_temperature
from copperpath_plugins.sources.photovoltaic import Photovoltaic

PANEL: dict[str, Any] = {
    "power": 42.0,
    "vmp": 17.8,
    "imp": 2.36,
    "voc": 21.6,
    "isc": 2.55,
    "mount": Mount(60, 180),
}


def _label(**changed: float) -> Label:
    plain: dict[str, float] = {
        "power_w": 42.0,
        "vmp_v": 17.8,
        "imp_a": 2.36,
        "voc_v": 21.6,
        "isc_a": 2.55,
        "voc_per_k": -0.0030,
        "isc_per_k": 0.0005,
        "power_per_k": -0.0038,
    }
    return Label(**(plain | changed))


def test_the_curve_has_the_labels_power_at_25_degrees():
    assert most_power(fit_label(_label())) == pytest.approx(42.0, rel=1e-6)


@pytest.mark.parametrize("coefficient", [-0.0025, -0.0035, -0.0045])
def test_power_follows_the_labels_coefficient_up_to_50_degrees(coefficient):
    curve = fit_label(_label(power_per_k=coefficient))
    assert most_power(at_temperature(curve, 323.15)) == pytest.approx(
        42.0 * (1 + 25 * coefficient), rel=1e-6
    )
    assert most_power(at_temperature(curve, 310.65)) == pytest.approx(
        42.0 * (1 + 12.5 * coefficient), rel=2e-3
    )


def test_open_circuit_voltage_follows_its_own_coefficient():
    curve = at_temperature(fit_label(_label()), 323.15)
    volts = 21.6 * (1 - 25 * 0.0030)
    dark = curve.saturation_a * np.expm1(volts / curve.slope_v) + volts * curve.shunt_siemens
    assert dark == pytest.approx(curve.photocurrent_a, rel=1e-9)


def test_short_circuit_current_follows_its_own_coefficient():
    """Where the series resistance can give the power its coefficient, as on most labels."""
    curve = fit_label(_label())
    assert curve.current_per_k / curve.photocurrent_a == pytest.approx(0.0005, rel=1e-9)
    assert 0.0 < curve.series_per_k < 0.01


def test_a_panel_in_deep_cold_keeps_to_its_label_within_3_percent():
    cold = at_temperature(fit_label(_label()), 243.15)
    assert most_power(cold) == pytest.approx(42.0 * (1 + 55 * 0.0038), rel=0.03)
    open_v = cold.slope_v * np.log(cold.photocurrent_a / cold.saturation_a)
    assert open_v == pytest.approx(21.6 * (1 + 55 * 0.0030), rel=0.005)


def test_random_labels_are_fitted_or_refused_with_words():
    random = np.random.default_rng(7)
    refused = 0
    for _ in range(300):
        voc, isc = random.uniform(1, 80), 10 ** random.uniform(-1, 1.2)
        vmp, imp = voc * random.uniform(0.70, 0.92), isc * random.uniform(0.85, 0.98)
        values = PANEL | {"power": vmp * imp, "vmp": vmp, "imp": imp, "voc": voc, "isc": isc}
        try:
            made = settled(Photovoltaic, **values)
        except ParameterProblem:
            refused += 1
            continue
        assert all(np.isfinite(made[name]) for name in Photovoltaic.derived)
        assert made["series_25"] >= 0.001
    assert refused <= 3


def test_strings_add_voltage_and_current():
    single = settled(Photovoltaic, **PANEL)
    many = settled(Photovoltaic, **PANEL, series=2.0, parallel=3.0)
    site = plain_site(25.0, 700.0)
    volts = np.array([15.0])
    one = panel_amps(Photovoltaic.drive(site, single), volts)
    array = panel_amps(Photovoltaic.drive(site, many), 2 * volts)
    assert array == pytest.approx(3 * one, rel=1e-9)


def test_the_law_is_at_rest_where_the_curve_says_so():
    values = settled(Photovoltaic, **PANEL)
    drives = Photovoltaic.drive(plain_site(5.0, 800.0), values)
    amps = panel_amps(drives, np.array([14.0]))
    shape = law_shape(Photovoltaic)
    junction = 14.0 + amps * drives["series"]
    d = shape.d_type(*(drives[name] for name in shape.d_fields))
    p = shape.p_type(*(values[name] for name in shape.p_fields))
    out, inner = Photovoltaic.law(shape.v_type(14.0, junction), shape.x_type(), d, p)
    assert out == pytest.approx(-amps, rel=1e-9)
    assert inner == pytest.approx(0.0, abs=1e-9)


def test_a_panel_in_the_dark_takes_a_trickle_at_most():
    """A battery straight on the panel at night: under 10 mA of 2.55 A, without any diode."""
    values = settled(Photovoltaic, **PANEL)
    amps = panel_amps(Photovoltaic.drive(plain_site(5.0, 0.0), values), np.array([13.3]))
    assert -0.010 < float(amps[0]) <= 0.0


def test_cells_in_the_sun_are_as_warm_as_the_label_says_at_800_watts():
    values = settled(Photovoltaic, **PANEL, efficiency=0.01)
    cell = cell_temperature(np.array([293.15]), np.array([800.0]), values)
    assert cell[0] - 273.15 == pytest.approx(45.0, abs=0.5)


@pytest.mark.parametrize(
    ("changed", "parameter"),
    [
        ({"vmp": 21.5, "imp": 1.953}, "vmp"),
        ({"imp": 2.0}, "imp"),
        ({"isc": 2.36}, "isc"),
        ({"power": 60.0}, "imp"),
    ],
)
def test_a_label_that_contradicts_itself_is_refused_at_the_right_word(changed, parameter):
    with pytest.raises(ParameterProblem) as caught:
        settled(Photovoltaic, **(PANEL | changed))
    assert caught.value.parameter == parameter
    assert caught.value.help
