"""A solar panel or blanket, from the numbers on its label."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import FloatArray, Model, Surroundings, Suspect, Terminal, Values
from copperpath_plugins.sources.panel_curve import (
    CURVE,
    TERMS,
    array_curve,
    bent,
    terms_at_record_low,
    terms_over_time,
)
from copperpath_plugins.sources.panel_parameters import PARAMETERS

TOO_LITTLE_SUN = Suspect(
    "too little sun on the panels",
    "twice the panel",
    (("parallel", "*2"),),
    sizing=True,
)

EVEN_LIGHT = (
    "light reflected off the glass at a slant; colour of the light; wind on its temperature; "
    "a blocking diode: in the dark the bare junction may take a trickle from what it feeds; "
    "creases that light some cells less than others"
)
"""What no panel here describes."""


class Photovoltaic(Model):
    """Single-diode curve with a private node at the junction, so that the law stays explicit."""

    interface = 1
    name = "photovoltaic"
    kind = "source"
    summary = "a solar panel or blanket, from the numbers on its label"
    leaves_out = (
        "uneven light over a panel and its bypass diodes (`derate` is for light lost evenly; "
        "`shaded_photovoltaic` has some groups of cells in the shade); " + EVEN_LIGHT
    )
    parameters = PARAMETERS
    terminals = (Terminal("out", "its two leads", main=True),)
    inner = ("junction",)
    concave = True
    derived = CURVE
    drives = TERMS
    suspects = (TOO_LITTLE_SUN,)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """The curve at 25 °C and how warmth acts, for the whole array."""
        return array_curve(p)

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """Curve terms at each step's light and cell temperature."""
        return terms_over_time(site, p)

    @staticmethod
    def at_record_low(air_k: float, p: Values) -> dict[str, float]:
        """Curve terms of clean panels in 1000 W/m² whose cells are as cold as the air."""
        return terms_at_record_low(air_k, p)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the leads and into the junction [A]."""
        out = (v.out - v.junction) / d.series
        leaks = d.saturation * bent(v.junction / d.slope, d.steepest) + d.shunt * v.junction
        return out, leaks - d.photocurrent - out
