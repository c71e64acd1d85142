"""A resistance that grows towards empty."""

from __future__ import annotations

from copperpath.plugin_api import Elementwise, Parameter, between, elementwise

GROWS_BELOW = 0.3
"""Charge below which it grows, in a straight line: a choice; published curves of cells bend
between 20 and 40 %."""


def empty_resistance(default: float, basis: str) -> Parameter:
    """The declaration of how much it grows."""
    return Parameter(
        "empty_resistance",
        "number",
        "how many times as large its resistance is when empty; it grows below a charge of 30 %",
        default=default,
        low=1.0,
        high=20.0,
        bound_reason="an empty battery has between once and twenty times the resistance",
        basis=basis,
        example="2",
    )


@elementwise
def towards_empty(charge: Elementwise, p: Elementwise) -> Elementwise:
    """Resistance at a charge against that of a full battery."""
    return 1.0 + (p.empty_resistance - 1.0) * between(1.0 - charge / GROWS_BELOW, 0.0, 1.0)
