"""A solar panel or blanket, from the numbers on its label."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    FloatArray,
    Model,
    Mounting,
    Parameter,
    ParameterProblem,
    Surroundings,
    Suspect,
    Terminal,
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

STEEPEST = 100.0
"""The diode's exponential is continued by a straight line from this many times the short-circuit
current on, so that it stays finite at any voltage."""


@elementwise
def diode_amps(volts: Elementwise, d: Elementwise) -> Elementwise:
    """Current of the diode [A], a straight line above the bend `steepest`."""
    x = volts / d.slope
    bounded = np.minimum(x, d.steepest)
    return d.saturation * (np.exp(bounded) * (1.0 + np.maximum(x - d.steepest, 0.0)) - 1.0)


class Photovoltaic(Model):
    """Single-diode curve with a private node at the junction, so that the law stays explicit."""

    interface = 1
    name = "photovoltaic"
    kind = "source"
    summary = "a solar panel or blanket, from the numbers on its label"
    leaves_out = (
        "uneven light over a panel and its bypass diodes (`derate` is for light lost evenly); "
        "light reflected off the glass at a slant; colour of the light; wind on its temperature; "
        "a blocking diode: in the dark the bare junction may take a trickle from what it feeds"
    )
    parameters = (
        Parameter(
            "power",
            "power",
            "rated power of one panel, at 1000 W/m² and 25 degC",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a panel gives power",
            example="28 W",
            shown_unit="W",
        ),
        Parameter(
            "vmp",
            "voltage",
            "voltage of one panel at its rated power",
            required=True,
            low=0.3,
            high=500.0,
            bound_reason="panels here have between 0.3 V and 500 V",
            example="17.6 V",
            shown_unit="V",
        ),
        Parameter(
            "voc",
            "voltage",
            "voltage of one panel in full sun with nothing connected",
            required=True,
            low=0.3,
            high=500.0,
            bound_reason="panels here have between 0.3 V and 500 V",
            example="21.4 V",
            shown_unit="V",
        ),
        Parameter(
            "isc",
            "current",
            "current of one panel in full sun with its ends joined",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a panel gives current",
            example="1.75 A",
            shown_unit="A",
        ),
        Parameter(
            "imp",
            "current",
            "current of one panel at its rated power; power over `vmp` if not given",
            low=0.0,
            low_allowed=False,
            bound_reason="a panel gives current",
            example="1.59 A",
            shown_unit="A",
        ),
        Mounting("mount", "how it lies or stands", required=True),
        Parameter(
            "series",
            "number",
            "equal panels one after the other (voltages add)",
            default=1.0,
            low=1.0,
            high=50.0,
            bound_reason="between 1 and 50 panels stand in a string",
            whole=True,
            basis="one panel unless the file says otherwise",
            example="2",
        ),
        Parameter(
            "parallel",
            "number",
            "equal strings side by side (currents add)",
            default=1.0,
            low=1.0,
            high=200.0,
            bound_reason="between 1 and 200 strings stand side by side",
            whole=True,
            basis="one string unless the file says otherwise",
            example="2",
        ),
        Parameter(
            "derate",
            "share",
            "share of the light that counts, after dirt, creases and poor aim",
            default=1.0,
            low=0.0,
            high=1.5,
            bound_reason="it is a share of the light on the panel",
            basis="clean, smooth and as mounted; 75 to 85 % in field use is common practice, "
            "no source",
            example="80 %",
            shown_unit="%",
        ),
        Parameter(
            "voc_coefficient",
            "share_per_kelvin",
            "change of the open-circuit voltage with warmth",
            default=-0.0030,
            low=-0.01,
            high=0.0,
            bound_reason="silicon loses between 0 and 1 % of its voltage a kelvin",
            basis="crystalline silicon, -0.28 to -0.33 %/K is common practice, no source",
            example="-0.30 %/K",
            shown_unit="%/K",
        ),
        Parameter(
            "isc_coefficient",
            "share_per_kelvin",
            "change of the short-circuit current with warmth; gives way where no "
            "other term can give the power its coefficient",
            default=0.0005,
            low=-0.005,
            high=0.005,
            bound_reason="a panel's current changes by less than 0.5 % a kelvin",
            basis="crystalline silicon, from memory",
            example="0.05 %/K",
            shown_unit="%/K",
        ),
        Parameter(
            "power_coefficient",
            "share_per_kelvin",
            "change of the power with warmth",
            default=-0.0038,
            low=-0.01,
            high=0.0,
            bound_reason="a panel loses between 0 and 1 % of its power a kelvin",
            basis="crystalline silicon, -0.35 to -0.40 %/K is common practice, no source",
            example="-0.38 %/K",
            shown_unit="%/K",
        ),
        Parameter(
            "nominal_cell_temperature",
            "temperature",
            "cell temperature in 800 W/m² and air of 20 degC (NOCT on the label)",
            default=318.15,
            low=293.15,
            high=373.15,
            bound_reason="cells in the sun are between 20 degC and 100 degC",
            basis="45 degC, common practice, no source",
            example="45 degC",
            shown_unit="degC",
        ),
        Parameter(
            "efficiency",
            "share",
            "share of the light turned into power, for the cell temperature only",
            default=0.20,
            low=0.01,
            high=0.5,
            bound_reason="panels turn between 1 and 50 % of the light into power",
            basis="crystalline silicon of today, from memory",
            example="20 %",
            shown_unit="%",
        ),
    )
    terminals = (Terminal("out", "its two leads", main=True),)
    inner = ("junction",)
    concave = True
    derived = (
        "series_25",
        "series_rise",
        "photocurrent_25",
        "saturation_25",
        "slope_25",
        "shunt_25",
        "gap",
        "photocurrent_rise",
    )
    drives = ("photocurrent", "saturation", "slope", "series", "shunt", "steepest")
    suspects = (
        Suspect(
            "too little sun on the panels",
            "twice the panel",
            (("parallel", "*2"),),
            sizing=True,
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
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

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """Curve terms at each step's light and cell temperature (De Soto 2006)."""
        light = site.plane_irradiance(p["mount"])
        cell = cell_temperature(site.air_k, light, p)
        ratio = cell / REFERENCE_K
        saturation = p["saturation_25"] * ratio**3
        saturation = saturation * np.exp(p["gap"] * (1.0 / REFERENCE_K - 1.0 / cell))
        counted = light / STANDARD_LIGHT * p["derate"]
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

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the leads and into the junction [A]."""
        out = (v.out - v.junction) / d.series
        leaks = diode_amps(v.junction, d) + d.shunt * v.junction
        return out, leaks - d.photocurrent - out


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
