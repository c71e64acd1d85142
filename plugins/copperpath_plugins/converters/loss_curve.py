"""How a converter's loss goes with its output: straight lines through up to three efficiencies.

The idle current is counted apart, so an efficiency here is that of the conversion alone.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Parameter,
    ParameterProblem,
    Values,
    between,
    elementwise,
)
from copperpath_plugins.values import given

TENTH, HALF = 0.1, 0.5
"""Shares of the full output at which two of the three efficiencies hold."""

CURVE_DERIVED = ("full_watts", "loss_first", "loss_middle", "loss_last")


def curve_parameters(
    tenth: float | None, half: float, full: float | None, basis: str
) -> tuple[Parameter, ...]:
    """The three efficiencies, with the defaults of a model; None: as `efficiency`."""

    def share(name: str, at: str, default: float | None, example: str) -> Parameter:
        return Parameter(
            name,
            "share",
            f"output power as a share of input power {at}, idle current aside",
            default=default,
            low=0.1,
            high=1.0,
            bound_reason="a converter gives less than it takes",
            basis=basis if default is not None else "",
            example=example,
            shown_unit="%",
        )

    other = "" if tenth is not None else " (as `efficiency` if not given)"
    usual = "" if tenth is not None else ", and at any other for which no figure is given"
    return (
        share("efficiency", f"at half of its full output{usual}", half, f"{100 * half:g} %"),
        share("efficiency_tenth", f"at a tenth of its full output{other}", tenth, "82 %"),
        share("efficiency_full", f"at its full output{other}", full, "89 %"),
    )


def curve_values(p: Values, full_watts: float) -> dict[str, float]:
    """Watts lost for each watt given: up to a tenth of the output, up to half, and above.

    Raises
    ------
    ParameterProblem
        If the efficiencies are so far apart that it would take less for giving more.
    """
    half = float(p["efficiency"])
    tenth, full = given(p, "efficiency_tenth"), given(p, "efficiency_full")
    at_tenth = TENTH * (1.0 / (half if tenth is None else tenth) - 1.0)
    at_half = HALF * (1.0 / half - 1.0)
    at_full = 1.0 / (half if full is None else full) - 1.0
    first = at_tenth / TENTH
    middle = (at_half - at_tenth) / (HALF - TENTH)
    last = (at_full - at_half) / (1.0 - HALF)
    rises = ((middle, "efficiency_tenth", "a tenth"), (last, "efficiency", "half"))
    for slope, name, where in rises:
        if slope <= -1.0:
            raise ParameterProblem(
                name,
                f"the efficiency at {where} of its output is so far below the next one that it "
                "would take less power for giving more",
                "compare its efficiencies with the datasheet once more",
            )
    return {
        "full_watts": full_watts,
        "loss_first": first,
        "loss_middle": middle,
        "loss_last": last,
    }


@elementwise
def loss_watts(watts: Elementwise, p: Elementwise) -> Elementwise:
    """What is lost while it gives `watts`, which are not below zero [W]."""
    low = np.minimum(watts, TENTH * p.full_watts)
    middle = between(watts - TENTH * p.full_watts, 0.0, (HALF - TENTH) * p.full_watts)
    high = np.maximum(watts - HALF * p.full_watts, 0.0)
    return low * p.loss_first + middle * p.loss_middle + high * p.loss_last
