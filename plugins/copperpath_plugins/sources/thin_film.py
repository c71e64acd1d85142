"""A thin-film panel or blanket: the same curve, with the coefficients of its kind."""

from __future__ import annotations

from dataclasses import replace

from copperpath.plugin_api import AnyParameter, Parameter
from copperpath_plugins.sources.panel_parameters import PARAMETERS
from copperpath_plugins.sources.photovoltaic import Photovoltaic

CEC = "median of the 589 thin-film modules in the list of the California Energy Commission, 2019, "

OWN: dict[str, tuple[float, str]] = {
    "voc_coefficient": (-0.0033, CEC + "of which nine tenths lie between -0.40 and -0.24 %/K"),
    "isc_coefficient": (0.0003, CEC + "of which nine tenths lie between -0.01 and 0.11 %/K"),
    "power_coefficient": (-0.0031, CEC + "of which nine tenths lie between -0.50 and -0.22 %/K"),
    "nominal_cell_temperature": (273.15 + 47.0, CEC + "of which half lie between 45 and 49 degC"),
    "efficiency": (0.12, CEC + "of which nine tenths lie between 6 and 17 %"),
}
"""Default and basis of what differs from a crystalline panel."""


def _own(parameter: AnyParameter) -> AnyParameter:
    if isinstance(parameter, Parameter) and parameter.name in OWN:
        default, basis = OWN[parameter.name]
        return replace(parameter, default=default, basis=basis)
    return parameter


class ThinFilm(Photovoltaic):
    """A photovoltaic panel whose assumed coefficients are those of thin-film modules."""

    interface = 1
    name = "thin_film"
    summary = "a thin-film solar panel or blanket, from the numbers on its label"
    leaves_out = (
        Photovoltaic.leaves_out + "; power that fresh cells lose or gain in their first weeks"
    )
    parameters = tuple(_own(parameter) for parameter in PARAMETERS)
