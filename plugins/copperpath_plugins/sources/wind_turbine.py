"""A small wind turbine that charges a battery, with a dump load for what is left over."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    Choice,
    FloatArray,
    Model,
    Parameter,
    ParameterProblem,
    ShareByHour,
    Surroundings,
    Suspect,
    Terminal,
    Values,
)
from copperpath_plugins.sources.power_output import BLEED_S, power_amps
from copperpath_plugins.sources.wind_power import PowerCurve, air_density


def _speed(
    name: str, help: str, default: float | None, high: float, basis: str, example: str
) -> Parameter:
    return Parameter(
        name,
        "speed",
        help,
        required=default is None,
        default=default,
        low=0.0,
        high=high,
        bound_reason=f"it is a wind between 0 and {high:.0f} m/s",
        basis=basis,
        example=example,
        shown_unit="m/s",
    )


def _height(name: str, help: str, basis: str) -> Parameter:
    return Parameter(
        name,
        "length",
        help,
        default=10.0,
        low=1.0,
        high=200.0,
        bound_reason="heights above ground are between 1 m and 200 m here",
        basis=basis,
        example="10 m",
        shown_unit="m",
    )


class WindTurbine(Model):
    """Its power by the wind, given at the battery's voltage; a dump load takes what is too much."""

    name = "wind_turbine"
    kind = "source"
    interface = 1
    summary = "a small wind turbine with a dump load, from a mean wind speed"
    leaves_out = (
        "calm days: with `gusts rayleigh` it gives its mean power all the time, so a store seems "
        "to need less than it does; turbulence near trees and roofs, which takes a third or more; "
        "turning out of the wind in storms, ice, noise; that curves on labels are often too good. "
        "Moving blades: keep out of reach, and brake it before you touch it"
    )
    parameters = (
        Parameter(
            "rating",
            "power",
            "the power it gives at `rated_wind` and above, at its leads",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1e5,
            bound_reason="turbines here give up to 100 kW",
            example="200 W",
            shown_unit="W",
        ),
        _speed("wind", "mean wind speed, measured at `measured_at`", None, 60.0, "", "5 m/s"),
        ShareByHour(
            "wind_by_hour",
            "share of `wind` that blows by the hour",
            default=1.0,
            basis="the same at every hour",
            example="60 % from 20:00 to 08:00, otherwise 100 %",
        ),
        Choice(
            "gusts",
            ("rayleigh", "steady"),
            "`rayleigh`: the mean power over gusts and lulls of that mean; `steady`: the power of "
            "that very wind",
            default="rayleigh",
            basis="Rayleigh's distribution, which IEC 61400-1 assumes for standard sites",
        ),
        _speed(
            "cut_in",
            "wind at which it begins to give",
            3.0,
            20.0,
            "2.5 to 3.5 m/s for small turbines, common practice, no source",
            "3 m/s",
        ),
        _speed(
            "rated_wind",
            "wind at which it gives `rating`, in air of 1.225 kg/m³",
            11.0,
            40.0,
            "10 to 12.5 m/s for small turbines, common practice, no source; 11 m/s is that of "
            "IEC 61400-2's rated power, from memory",
            "11 m/s",
        ),
        _speed(
            "cut_out",
            "wind above which it stands still",
            25.0,
            80.0,
            "common practice, no source; many small ones turn out of the wind at 15 to 20 m/s",
            "25 m/s",
        ),
        _height("hub", "height of its hub above ground", "a mast of 10 m, or the wind given there"),
        _height(
            "measured_at",
            "height above ground at which `wind` holds",
            "10 m, at which weather services measure (World Meteorological Organization)",
        ),
        Parameter(
            "shear",
            "number",
            "exponent with which the wind grows with height",
            default=1.0 / 7.0,
            low=0.0,
            high=1.0,
            bound_reason="the exponent is between 0 and 1",
            basis="one seventh over open ground, common practice, no source",
            example="0.14",
        ),
        Parameter(
            "altitude",
            "length",
            "height of the site above the sea, for the density of its air",
            default=0.0,
            low=-430.0,
            high=6000.0,
            bound_reason="sites lie between 430 m below and 6000 m above the sea",
            basis="at the sea; 1000 m take about a tenth of the power",
            example="800 m",
            shown_unit="m",
        ),
        Parameter(
            "voltage",
            "voltage",
            "the battery voltage at which the dump load takes all",
            default=14.4,
            low=1.0,
            high=100.0,
            bound_reason="batteries here are charged to between 1 V and 100 V",
            basis="the charging voltage of a 12 V battery, common practice, no source",
            example="14.4 V",
            shown_unit="V",
        ),
    )
    terminals = (Terminal("line", "its leads to the battery", main=True),)
    drives = ("watts",)
    pushes = "voltage"
    suspects = (
        Suspect(
            "too little wind on the turbine",
            "twice the turbine, or a higher mast",
            (("rating", "*2"),),
            sizing=True,
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Nothing; only that the speeds stand in order."""
        if not float(p["cut_in"]) + 0.1 <= float(p["rated_wind"]):
            raise ParameterProblem(
                "rated_wind",
                f"{float(p['rated_wind']):.4g} m/s of rated wind is not above the "
                f"{float(p['cut_in']):.4g} m/s at which it begins to give",
                "small turbines begin at about 3 m/s and reach their rating at about 11 m/s",
            )
        if not float(p["cut_in"]) < float(p["cut_out"]):
            raise ParameterProblem(
                "cut_out",
                f"it stands still above {float(p['cut_out']):.4g} m/s, before it begins to give",
                "turbines stop in storms, at 25 m/s for instance",
            )
        return {}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`watts`: what it can give over each step."""
        grown = (p["hub"] / p["measured_at"]) ** p["shear"]
        wind = p["wind"] * grown * site.schedule(p["wind_by_hour"])
        density = air_density(p["altitude"], site.air_k)
        curve = PowerCurve(p["rating"], p["cut_in"], p["rated_wind"], p["cut_out"])
        if p["gusts"] == "steady":
            return {"watts": curve.steady(wind, density)}
        return {"watts": curve.over_gusts(wind, density)}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into its leads [A]."""
        return (BLEED_S * v.line - power_amps(v.line, d.watts, p.voltage),)
