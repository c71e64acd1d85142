"""An output held at a voltage: its sag, its limit, and how it fades under the input window."""

from __future__ import annotations

from copperpath.plugin_api import Elementwise, Parameter, between, elementwise

FADE_V = 0.5
"""Volts below the input window over which the output fades to nothing: a choice that keeps the
curve continuous; real ones switch off and on again."""


@elementwise
def fade_in(volts: Elementwise, least: Elementwise) -> Elementwise:
    """Share of itself that a converter gives at an input of so many volts."""
    return between((volts - least + FADE_V) / FADE_V, 0.0, 1.0)


@elementwise
def held_amps(
    volts: Elementwise, held: Elementwise, ohm: Elementwise, most: Elementwise
) -> Elementwise:
    """Current that holds the output at `held`, sagging over `ohm`, within the limit, never below
    zero [A]."""
    return between((held - volts) / ohm, 0.0, most)


def output_resistance(
    what: str = "how far the output sags for each ampere",
    default: float = 0.020,
    basis: str = "plug and short lead inside the case, from memory",
    example: str = "20 mohm",
) -> Parameter:
    """The declaration of how far an output sags."""
    return Parameter(
        "output_resistance",
        "resistance",
        what,
        default=default,
        low=0.001,
        high=1.0,
        bound_reason="an output sags by between 1 mV and 1 V for each ampere",
        basis=basis,
        example=example,
        shown_unit="mohm",
    )
