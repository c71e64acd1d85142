"""A solar panel or string of which some groups of cells lie in the shade: a stepped curve."""

from __future__ import annotations

import math
from typing import Any

from copperpath.plugin_api import (
    Choice,
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Suspect,
    Terminal,
    Values,
)
from copperpath_plugins.sources.panel_curve import (
    CURVE,
    TERMS,
    array_curve,
    bent,
    terms_at_record_low,
    terms_over_time,
)
from copperpath_plugins.sources.panel_parameters import PARAMETERS
from copperpath_plugins.sources.photovoltaic import EVEN_LIGHT, TOO_LITTLE_SUN

BYPASS_SLOPE_V = 0.027
"""Volts over which the current of one bypass diode grows by e: 1.05 times kT/q at 25 °C, as
Schottky diodes have; from memory."""

STEEPEST = math.log(100.0)
"""Beyond `bypass_drop`: a straight line from a hundred times the short-circuit current on."""


class ShadedPhotovoltaic(Model):
    """Lit groups above, shaded groups below with bypass diodes beside them: two single-diode
    curves in series, with private nodes at both junctions and between the two."""

    interface = 1
    name = "shaded_photovoltaic"
    kind = "source"
    summary = "solar panels of which some groups of cells lie in the shade: its curve has a step"
    leaves_out = (
        "strings shaded unlike each other (make each a source of its own); shade that moves from "
        "group to group; that a group with one dark cell keeps the voltage of the others (all "
        "cells of a group have the light of the darkest); cells that break down backwards and "
        "get hot where no diode protects them; shaded cells being cooler; " + EVEN_LIGHT
    )
    parameters = (
        *PARAMETERS,
        Parameter(
            "groups",
            "number",
            "groups of cells in one panel, each with its bypass diode",
            default=2.0,
            low=1.0,
            high=100.0,
            bound_reason="a panel has between 1 and 100 groups",
            whole=True,
            basis="two for 36 cells, three for 60 or 72, common practice, no source",
            example="2",
        ),
        Parameter(
            "shaded_groups",
            "number",
            "groups in the shade, counted over all panels of a string; each string alike",
            required=True,
            low=1.0,
            high=1000.0,
            bound_reason="without any in the shade it is a `photovoltaic`",
            whole=True,
            example="1",
        ),
        Parameter(
            "shaded_light",
            "share",
            "share of the light that is left on the darkest cell of those groups",
            default=0.0,
            low=0.0,
            high=1.0,
            bound_reason="it is a share of the light on the panel",
            basis="dark: snow, a leaf or a broken cell; 10 to 25 % in the shadow of a thing "
            "under a clear sky, from memory",
            example="15 %",
            shown_unit="%",
        ),
        Hours("shaded", "when the shade lies on it; always if not given", inverse="unshaded"),
        Choice(
            "bypass",
            ("diodes", "none"),
            "whether each group has a bypass diode; without, the dark group stops its string",
            default="diodes",
            basis="rigid panels have them, common practice, no source; look at a blanket's label",
        ),
        Parameter(
            "bypass_drop",
            "voltage",
            "voltage of one bypass diode at the short-circuit current",
            default=0.45,
            low=0.1,
            high=1.2,
            bound_reason="diodes drop between 0.1 V and 1.2 V",
            basis="Schottky 0.35 to 0.5 V, common practice, no source",
            example="0.45 V",
            shown_unit="V",
            only_with=("bypass", "diodes"),
        ),
    )
    terminals = (Terminal("out", "its two leads", main=True),)
    inner = ("lit", "between", "dark")
    derived = (
        *CURVE,
        "lit_share",
        "dark_share",
        "bypass_slope",
        "bypass_saturation",
        "bypass_steepest",
    )
    drives = (*TERMS, "left")
    suspects = (
        Suspect("shade on a part of the panels", "clear it or move them", (("shaded_light", 1.0),)),
        TOO_LITTLE_SUN,
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """The array's curve, the two shares of its length, and the bypass diodes."""
        groups, shaded = float(p["groups"]) * float(p["series"]), float(p["shaded_groups"])
        if shaded >= groups:
            raise ParameterProblem(
                "shaded_groups",
                f"{shaded:.0f} of the {groups:.0f} groups of a string are in the shade, which "
                "leaves none in the light",
                "for light lost on all of it say `derate` of a `photovoltaic`",
            )
        curve = array_curve(p)
        drop = float(p["bypass_drop"]) / BYPASS_SLOPE_V
        bypassed = p["bypass"] == "diodes"
        return curve | {
            "lit_share": 1.0 - shaded / groups,
            "dark_share": shaded / groups,
            "bypass_slope": BYPASS_SLOPE_V * shaded,
            "bypass_saturation": curve["photocurrent_25"] / math.expm1(drop) if bypassed else 0.0,
            "bypass_steepest": drop + STEEPEST,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """Curve terms of the array in the light, and the share `left` on shaded groups."""
        left = 1.0 - site.schedule(p["shaded"]) * (1.0 - p["shaded_light"])
        return terms_over_time(site, p) | {"left": left}

    @staticmethod
    def at_record_low(air_k: float, p: Values) -> dict[str, float]:
        """The array in full sun, out of the shade, as cold as the air."""
        return terms_at_record_low(air_k, p) | {"left": 1.0}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into the leads, the two junctions and what lies between [A]."""
        above, into_lit = v.lit - v.between, (v.out - v.lit) / (d.series * p.lit_share)
        into_dark = (v.between - v.dark) / (d.series * p.dark_share)
        lit = d.saturation * bent(above / (d.slope * p.lit_share), d.steepest)
        lit = lit + d.shunt * above / p.lit_share - d.photocurrent
        dark = d.saturation * bent(v.dark / (d.slope * p.dark_share), d.steepest)
        dark = dark + d.left * (d.shunt * v.dark / p.dark_share - d.photocurrent)
        bypass = p.bypass_saturation * bent(-v.between / p.bypass_slope, p.bypass_steepest)
        return into_lit, lit - into_lit, into_dark - lit - bypass, dark - into_dark
