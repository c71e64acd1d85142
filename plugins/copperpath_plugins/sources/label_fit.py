"""From the numbers on a panel's label to a single-diode curve that follows them.

Plain numpy, so that checking a station file stays instant. Everything is for one unit.

The curve at 25 °C is the explicit one of E. I. Batzelis, "Simple PV Performance Equations
Theoretically Well Founded on the Single-Diode Model", IEEE Journal of Photovoltaics 7 (2017) 1400,
equations 9 and 11 to 15, doi:10.1109/JPHOTOV.2017.2711431 (`pvlib.ivtools.sdm.fit_desoto_batzelis`
is the same and is the reference in our tests). Light and temperature act as in W. De Soto,
S. A. Klein, W. A. Beckman, Solar Energy 80 (2006) 78, with three terms fitted instead of assumed,
so that voltage, current and power follow the label's coefficients between 25 and 50 °C.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

REFERENCE_K = 298.15
HOT_K = 323.15
"""Between these two the label's temperature coefficients are met exactly."""

LEAST_SERIES_OHM = 0.001
LARGE_SHUNT = 1e4
"""Shunt resistance, as a multiple of open-circuit voltage over short-circuit current, where the
explicit fit gives a negative one (about 8 % of real labels)."""

SERIES_PER_K = (-0.01, 0.01)
"""Bounds of `series_per_k` [1/K], a choice; that of copper is 0.004."""


class LabelProblem(Exception):
    """The numbers on the label cannot belong to one panel."""


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on a panel: V, A, W at 25 °C and 1000 W/m²; coefficients as shares a kelvin."""

    power_w: float
    vmp_v: float
    imp_a: float
    voc_v: float
    isc_a: float
    voc_per_k: float
    isc_per_k: float
    power_per_k: float


@dataclass(frozen=True, slots=True)
class Curve:
    """Single-diode terms: current = photocurrent - saturation (exp(u/slope) - 1) - u shunt, where
    u = voltage + current series. `gap_k`, `series_per_k`, `current_per_k`: how warmth acts."""

    photocurrent_a: float
    saturation_a: float
    slope_v: float
    series_ohm: float
    shunt_siemens: float
    gap_k: float = 0.0
    series_per_k: float = 0.0
    current_per_k: float = 0.0


def fit_label(label: Label) -> Curve:
    """The curve of one panel.

    Raises
    ------
    LabelProblem
        If no such curve exists.
    """
    curve = _with_exact_power(_explicit_curve(label), label)
    return _with_temperature_terms(curve, label)


def most_power(curve: Curve) -> float:
    """Largest power of the curve as it stands, at 25 °C and 1000 W/m² [W].

    Newton's rule on the slope of the power over the junction's voltage, kept between the two sides
    of the one maximum.
    """
    series, slope, shunt = curve.series_ohm, curve.slope_v, curve.shunt_siemens
    low, high = 0.0, slope * math.log1p(curve.photocurrent_a / curve.saturation_a)
    junction, power = 0.85 * high, 0.0
    for _ in range(60):
        diode = curve.saturation_a * math.exp(junction / slope)
        current = curve.photocurrent_a + curve.saturation_a - diode - junction * shunt
        falls, bends = -diode / slope - shunt, -diode / slope**2
        power = current * (junction - current * series)
        rises = current + falls * (junction - 2.0 * current * series)
        turns = bends * (junction - 2.0 * current * series) + 2.0 * falls * (1.0 - falls * series)
        low, high = (junction, high) if rises > 0.0 else (low, junction)
        following = junction - rises / turns if turns < 0.0 else low
        if not low < following < high:
            following = 0.5 * (low + high)
        if abs(following - junction) < 1e-9 * slope:
            break
        junction = following
    return power


# ---- at 25 °C --------------------------------------------------------------------------------


def _explicit_curve(label: Label) -> Curve:
    """Batzelis 2017, equations 9 and 11 to 15."""
    above = 50.1 - label.isc_per_k * REFERENCE_K
    delta = (1.0 - label.voc_per_k * REFERENCE_K) / above
    weight = _lambert_of_exp(1.0 / delta + 1.0)
    slope = delta * label.voc_v
    series = (slope * (weight - 1.0) - label.vmp_v) / label.imp_a
    missing = label.isc_a * (1.0 - 1.0 / weight) - label.imp_a
    shunt = slope * (weight - 1.0) / missing if missing != 0.0 else np.inf
    if shunt < 0.0:
        shunt = LARGE_SHUNT * label.voc_v / label.isc_a
    series = max(series, LEAST_SERIES_OHM)
    photocurrent = (1.0 + series / shunt) * label.isc_a
    saturation = photocurrent * np.exp(-1.0 / delta)
    return Curve(photocurrent, float(saturation), slope, series, 1.0 / shunt)


def _with_exact_power(curve: Curve, label: Label) -> Curve:
    """The series resistance changed until the most powerful point has the label's power; the
    explicit fit leaves some 0.2 % (its sharpest bend is that of equation 9)."""
    if most_power(_with_series(curve, label, LEAST_SERIES_OHM)) < label.power_w:
        curve = replace(curve, shunt_siemens=0.0)
        if most_power(_with_series(curve, label, LEAST_SERIES_OHM)) < label.power_w:
            return _with_sharper_bend(curve, label)
    low, high = LEAST_SERIES_OHM, max(label.voc_v / label.isc_a, 2.0 * LEAST_SERIES_OHM)
    series = min(max(curve.series_ohm, low), high)
    for attempt in range(60):
        tried = _with_series(curve, label, series)
        over = most_power(tried) - label.power_w
        if abs(over) < 1e-9 * label.power_w:
            break
        low, high = (series, high) if over > 0.0 else (low, series)
        series += over / label.imp_a**2
        if attempt > 8 or not low < series < high:
            series = 0.5 * (low + high)
    return tried


def _with_series(curve: Curve, label: Label, series_ohm: float) -> Curve:
    """Another series resistance, through the same open-circuit voltage and short-circuit current
    (to the share of the diode's current there, under 1e-6 on real labels)."""
    photocurrent = (1.0 + series_ohm * curve.shunt_siemens) * label.isc_a
    diode = photocurrent - label.voc_v * curve.shunt_siemens
    if diode <= 0.0:
        raise LabelProblem("these numbers ask for more leakage than light")
    saturation = float(diode / np.expm1(label.voc_v / curve.slope_v))
    return replace(
        curve, series_ohm=series_ohm, photocurrent_a=photocurrent, saturation_a=saturation
    )


def _with_sharper_bend(curve: Curve, label: Label) -> Curve:
    """For a label that is fuller than the explicit fit allows: a diode that bends more sharply,
    through the same open-circuit voltage, without shunt and with the least series resistance."""
    low, high = 0.01 * label.voc_v, curve.slope_v
    if most_power(_bent(curve, label, low)) < label.power_w:
        raise LabelProblem("no solar cell's curve is as full as these numbers ask for")
    for _ in range(40):
        middle = 0.5 * (low + high)
        if most_power(_bent(curve, label, middle)) > label.power_w:
            low = middle
        else:
            high = middle
    return _bent(curve, label, low)


def _bent(curve: Curve, label: Label, slope_v: float) -> Curve:
    saturation = label.isc_a / np.expm1(label.voc_v / slope_v)
    return replace(
        curve,
        photocurrent_a=label.isc_a,
        saturation_a=float(saturation),
        slope_v=slope_v,
        series_ohm=LEAST_SERIES_OHM,
        shunt_siemens=0.0,
    )


def _lambert_of_exp(x: float) -> float:
    """w with w + log(w) = x, by Newton's rule; x is 15 to 60 here."""
    w = x - np.log(x)
    for _ in range(8):
        w -= (w + np.log(w) - x) / (1.0 + 1.0 / w)
    return float(w)


# ---- warmth ----------------------------------------------------------------------------------


def at_temperature(curve: Curve, cell_k: float) -> Curve:
    """The same panel at another cell temperature and 1000 W/m²."""
    ratio = cell_k / REFERENCE_K
    saturation = curve.saturation_a * ratio**3
    saturation *= np.exp(curve.gap_k * (1.0 / REFERENCE_K - 1.0 / cell_k))
    photocurrent = curve.photocurrent_a + curve.current_per_k * (cell_k - REFERENCE_K)
    return replace(
        curve,
        photocurrent_a=photocurrent,
        saturation_a=float(saturation),
        slope_v=curve.slope_v * ratio,
        series_ohm=curve.series_ohm * np.exp(curve.series_per_k * (cell_k - REFERENCE_K)),
    )


def _with_temperature_terms(curve: Curve, label: Label) -> Curve:
    """Fit how warmth acts to the label's three coefficients.

    `gap_k` gives the open-circuit voltage its coefficient, `current_per_k` the short-circuit
    current, and `series_per_k` (0 in De Soto 2006) the power, by the loss in the series
    resistance. Where that would leave its bounds, the short-circuit current gives way: power and
    open circuit are what a design hangs on.
    """
    wanted = most_power(curve) * (1.0 + label.power_per_k * (HOT_K - REFERENCE_K))
    rise = label.isc_per_k * curve.photocurrent_a
    low, high = SERIES_PER_K
    # More resistance in the heat means less power there: the miss falls as `series_per_k` rises.
    low_miss = _miss(curve, label, rise, low, wanted)
    if low_miss < 0.0:
        return _with_given_way(curve, label, low, wanted)
    high_miss = _miss(curve, label, rise, high, wanted)
    if high_miss > 0.0:
        return _with_given_way(curve, label, high, wanted)
    # False position; an end that stays put twice counts half ("Illinois"), else it would creep.
    side = 0
    for _ in range(60):
        if low_miss == high_miss:
            break
        middle = low + low_miss * (high - low) / (low_miss - high_miss)
        found = _miss(curve, label, rise, middle, wanted)
        if abs(found) < 1e-9 * wanted:
            return _with_gap(curve, label, rise, middle)
        if found > 0.0:
            low, low_miss = middle, found
            high_miss *= 0.5 if side > 0 else 1.0
            side = 1
        else:
            high, high_miss = middle, found
            low_miss *= 0.5 if side < 0 else 1.0
            side = -1
    return _with_gap(curve, label, rise, low)


def _with_given_way(curve: Curve, label: Label, series_per_k: float, wanted: float) -> Curve:
    """`current_per_k` by the secant rule, with `series_per_k` at its bound."""
    low = label.isc_per_k * curve.photocurrent_a
    high = low + 1e-4 * curve.photocurrent_a
    low_miss = _miss(curve, label, low, series_per_k, wanted)
    for _ in range(30):
        high_miss = _miss(curve, label, high, series_per_k, wanted)
        if abs(high_miss) < 1e-9 * wanted or high_miss == low_miss:
            break
        following = high - high_miss * (high - low) / (high_miss - low_miss)
        low, low_miss, high = high, high_miss, following
    return _with_gap(curve, label, high, series_per_k)


def _miss(
    curve: Curve, label: Label, current_per_k: float, series_per_k: float, wanted: float
) -> float:
    """Power at 50 °C above the wanted one [W]."""
    made = _with_gap(curve, label, current_per_k, series_per_k)
    return most_power(at_temperature(made, HOT_K)) - wanted


def _with_gap(curve: Curve, label: Label, current_per_k: float, series_per_k: float) -> Curve:
    """`gap_k` from the wanted open-circuit voltage at 50 °C, in one formula."""
    warmer = HOT_K - REFERENCE_K
    slope = curve.slope_v * HOT_K / REFERENCE_K
    open_v = label.voc_v * (1.0 + label.voc_per_k * warmer)
    light = curve.photocurrent_a + current_per_k * warmer - open_v * curve.shunt_siemens
    if light <= 0.0:
        raise LabelProblem("the temperature coefficients do not go together")
    saturation = light / np.expm1(open_v / slope)
    growth = np.log(saturation / curve.saturation_a) - 3.0 * np.log(HOT_K / REFERENCE_K)
    gap = growth / (1.0 / REFERENCE_K - 1.0 / HOT_K)
    return replace(curve, gap_k=float(gap), series_per_k=series_per_k, current_per_k=current_per_k)
