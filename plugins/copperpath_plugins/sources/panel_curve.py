"""From a panel's parameters to the terms of its array's curve, at 25 degC and over time."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    FloatArray,
    ParameterProblem,
    Surroundings,
    Values,
    elementwise,
)
from copperpath_plugins.sources.label_fit import (
    REFERENCE_K,
    Curve,
    Label,
    LabelProblem,
    fit_label,
)
from copperpath_plugins.values import given

DISAGREES = 0.03
"""Power may differ from `vmp` times `imp` by so much; labels are rounded."""

NOCT_LIGHT = 800.0
NOCT_AIR_K = 293.15
STANDARD_LIGHT = 1000.0
ABSORBED = 0.9
"""Share of the light that a panel turns into heat or current, in the temperature formula of
J. A. Duffie and W. A. Beckman, Solar Engineering of Thermal Processes (from memory)."""

CURVE = (
    "series_25",
    "series_rise",
    "photocurrent_25",
    "saturation_25",
    "slope_25",
    "shunt_25",
    "gap",
    "photocurrent_rise",
)
"""What `array_curve` gives."""

TERMS = ("photocurrent", "saturation", "slope", "series", "shunt", "steepest")
"""What `terms_over_time` gives."""

STEEPEST = 100.0
"""The diode's exponential is continued by a straight line from this many times the short-circuit
current on, so that it stays finite at any voltage."""


@elementwise
def bent(x: Elementwise, steepest: Elementwise) -> Elementwise:
    """exp(x) - 1, a straight line above the bend `steepest`."""
    return np.exp(np.minimum(x, steepest)) * (1.0 + np.maximum(x - steepest, 0.0)) - 1.0


def array_curve(p: Values) -> dict[str, float]:
    """The curve at 25 °C and how warmth acts, for the whole array."""
    curve = _fitted(_label(p))
    rows, columns = float(p["series"]), float(p["parallel"])
    return {
        "series_25": curve.series_ohm * rows / columns,
        "series_rise": curve.series_per_k,
        "photocurrent_25": curve.photocurrent_a * columns,
        "saturation_25": curve.saturation_a * columns,
        "slope_25": curve.slope_v * rows,
        "shunt_25": curve.shunt_siemens * columns / rows,
        "gap": curve.gap_k,
        "photocurrent_rise": curve.current_per_k * columns,
    }


def terms_over_time(site: Surroundings, p: Values) -> dict[str, FloatArray]:
    """Curve terms at each step's light and cell temperature (De Soto 2006)."""
    light = site.plane_irradiance(p["mount"])
    counted = light / STANDARD_LIGHT * light_kept(p)
    return _terms(counted, cell_temperature(site.air_k, light, p), p)


def terms_at_record_low(air_k: float, p: Values) -> dict[str, float]:
    """The same of clean panels in 1000 W/m² whose cells are as cold as the air."""
    terms = _terms(np.ones(1), np.array([air_k]), p)
    return {name: float(values[0]) for name, values in terms.items()}


def _terms(counted: FloatArray, cell: FloatArray, p: Values) -> dict[str, FloatArray]:
    """Curve terms for a light, in parts of 1000 W/m², and a temperature of the cells."""
    ratio = cell / REFERENCE_K
    saturation = p["saturation_25"] * ratio**3
    saturation = saturation * np.exp(p["gap"] * (1.0 / REFERENCE_K - 1.0 / cell))
    photocurrent = p["photocurrent_25"] + p["photocurrent_rise"] * (cell - REFERENCE_K)
    steepest = np.log(STEEPEST * p["photocurrent_25"] / saturation)
    return {
        "photocurrent": counted * np.maximum(photocurrent, 0.0),
        "saturation": saturation,
        "slope": p["slope_25"] * ratio,
        "series": p["series_25"] * np.exp(p["series_rise"] * (cell - REFERENCE_K)),
        "shunt": p["shunt_25"] * counted,
        "steepest": steepest,
    }


def light_kept(p: Values) -> float:
    """Share of the light that counts, after all that is lost evenly."""
    dirt, folds = given(p, "soiling") or 0.0, given(p, "creases") or 0.0
    return float(p["derate"]) * (1.0 - dirt) * (1.0 - folds)


def cell_temperature(air_k: FloatArray, light: FloatArray, p: Values) -> FloatArray:
    """Cell temperature [K], shape (time,): air + (NOCT - 20 °C) light/800 (1 - efficiency/0.9)."""
    warmer = p["nominal_cell_temperature"] - NOCT_AIR_K
    return np.asarray(
        air_k + warmer * (light / NOCT_LIGHT) * (1.0 - p["efficiency"] / ABSORBED),
        dtype=np.float64,
    )


def _label(p: Values) -> Label:
    """The label's numbers, checked against each other."""
    power, vmp, voc, isc = (float(p[name]) for name in ("power", "vmp", "voc", "isc"))
    imp = given(p, "imp")
    if imp is None:
        imp = power / vmp
        imp_words = f"its rated current, {power:.4g} W / {vmp:.4g} V = {imp:.4g} A,"
    else:
        imp_words = f"its rated current of {imp:.4g} A"
    if not 0.55 * voc <= vmp <= 0.95 * voc:
        raise ParameterProblem(
            "vmp",
            f"voltage at rated power {vmp:.4g} V does not go with {voc:.4g} V open circuit",
            "it is between 55 and 95 % of the open-circuit voltage, usually about 82 %",
        )
    if abs(imp * vmp / power - 1.0) > DISAGREES:
        raise ParameterProblem(
            "imp",
            f"{vmp:.4g} V times {imp:.4g} A is {vmp * imp:.4g} W, but `power` says {power:.4g} W",
            "leave `imp` out, or look for the one of the three that was misread",
        )
    if not 0.65 * isc <= imp <= 0.995 * isc:
        raise ParameterProblem(
            "isc",
            f"{imp_words} does not go with {isc:.4g} A of short-circuit current",
            "it is between 65 and 99.5 % of the short-circuit current, usually about 93 %",
        )
    return Label(
        power_w=power,
        vmp_v=vmp,
        imp_a=imp,
        voc_v=voc,
        isc_a=isc,
        voc_per_k=float(p["voc_coefficient"]),
        isc_per_k=float(p["isc_coefficient"]),
        power_per_k=float(p["power_coefficient"]),
    )


def _fitted(label: Label) -> Curve:
    try:
        return fit_label(label)
    except LabelProblem as problem:
        raise ParameterProblem(
            "power", str(problem), "compare power, vmp, voc, isc with the label once more"
        ) from None
