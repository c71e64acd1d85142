"""What loads share that carry a battery of their own: how it is told, and how it is charged.

It takes a steady power up to `taper_from`; from there on the power fades with the room that is
left, as it does once the cells stand at their highest voltage.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import AnyParameter, Elementwise, Parameter, elementwise

CHARGING_LEAVES_OUT = (
    "its battery holds the same energy warm or cold, at any rate and age; a step longer than "
    "the taper takes (battery times the last share, by the charging power) takes more than fits"
)


@elementwise
def charging_watts(charge: Elementwise, p: Elementwise) -> Elementwise:
    """What the charger of one battery takes at that charge [W]."""
    room = np.maximum(1.0 - charge, 0.0) / (1.0 - p.taper_from)
    return p.charge_power * np.minimum(room, 1.0)


@elementwise
def charged_watts(surplus: Elementwise, p: Elementwise) -> Elementwise:
    """Power into the battery [W] where that much more is taken than used; below zero it gives."""
    return np.maximum(surplus, 0.0) * p.charge_efficiency + np.minimum(surplus, 0.0)


def battery_parameters(
    battery: str, example: str, charge_power: float, basis: str
) -> tuple[AnyParameter, ...]:
    """Energy, charging power, its efficiency and taper, and the charge at the start."""
    return (
        Parameter(
            "battery",
            "energy",
            battery,
            required=True,
            low=360.0,
            high=3.6e6,
            bound_reason="batteries inside a device hold between 0.1 Wh and 1 kWh",
            example=example,
            shown_unit="Wh",
        ),
        Parameter(
            "charge_power",
            "power",
            "what charging one battery takes from the supply, until it tapers",
            default=charge_power,
            low=0.1,
            high=500.0,
            bound_reason="chargers inside a device take between 0.1 W and 500 W",
            basis=basis,
            example=f"{charge_power:g} W",
            shown_unit="W",
        ),
        *CHARGING,
    )


CHARGING: tuple[AnyParameter, ...] = (
    Parameter(
        "charge_efficiency",
        "share",
        "how much of the charging power can be used from the battery later",
        default=0.85,
        low=0.3,
        high=1.0,
        bound_reason="no charger gives more than it takes, and few lose more than two thirds",
        basis="charger 0.9 and lithium cells 0.95, from memory",
        example="85 %",
        shown_unit="%",
    ),
    Parameter(
        "taper_from",
        "share",
        "the charge from which on charging takes less and less",
        default=0.8,
        low=0.0,
        high=0.98,
        bound_reason="above 98 % the taper would last seconds",
        basis="lithium cells at their highest voltage from about 80 %, from memory",
        example="80 %",
        shown_unit="%",
    ),
    Parameter(
        "charge",
        "share",
        "the charge of its battery at the start",
        default=1.0,
        low=0.0,
        high=1.0,
        bound_reason="it is a share of what the battery holds",
        basis="filled up before leaving, a choice",
        example="80 %",
        shown_unit="%",
    ),
)
