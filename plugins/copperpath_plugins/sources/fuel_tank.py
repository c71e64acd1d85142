"""A tank: what it holds, how full it is, and what is told when it runs dry."""

from __future__ import annotations

from copperpath.plugin_api import Accumulator, Latch, Parameter, Suspect

FUEL = Accumulator("fuel", "fuel")
DRY = Latch("dry", dry=True)

FILLED = Parameter(
    "fuel",
    "share",
    "how full the tank is at the start",
    default=1.0,
    low=0.0,
    high=1.0,
    bound_reason="a tank is between empty and full",
    basis="filled before leaving",
    example="100 %",
    shown_unit="%",
)


def ran_out(model: str) -> Suspect:
    """That it stood still without fuel."""
    return Suspect(
        f"the {model} ran out of fuel",
        "a larger tank, or somebody who fills it",
        (("tank", "*100"),),
        latch="dry",
    )
