"""A Schottky diode in series."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Model,
    Parameter,
    ParameterProblem,
    Terminal,
    Values,
    elementwise,
)

POWER, START_SHARE = 5.0, 0.001
"""The current grows with this power of the voltage above the knee, up to the rating, beside a
straight line that has this share of it at the rating. A choice: between a hundredth of the rating
and the rating it stays within 20 mV of a logarithm, whose slope the search for an operating point
would find too steep; without the straight line it would find a point without current too slowly."""

SMALL_PLACE = 0.39499033
"""Where between knee and rated drop the current is a hundredth: 0.999 s^5 + 0.001 s = 0.01."""


@elementwise
def forward_amps(drop: Elementwise, p: Elementwise) -> Elementwise:
    """Current [A] at a forward drop [V]: none below the knee and backwards, a straight line with
    the slope it has there above the rating."""
    place = np.maximum((drop - p.knee) / p.span, 0.0)
    within, beyond = np.minimum(place, 1.0), np.maximum(place - 1.0, 0.0)
    curved = (1.0 - START_SHARE) * (within**POWER + POWER * beyond)
    return p.rating * (curved + START_SHARE * place)


class Diode(Model):
    """A smooth curve through two drops: at a hundredth of its rating and at it."""

    name = "diode"
    kind = "block"
    one_way = True
    interface = 1
    summary = "a diode: current in one direction, at a drop of 0.3 to 0.5 V"
    leaves_out = (
        "its drop falling by about 2 mV for each kelvin of warmth; the milliamperes that a hot "
        "Schottky diode lets pass backwards; the voltage at which it breaks through"
    )
    parameters = (
        Parameter(
            "rating",
            "current",
            "its rated current, at which `drop` holds",
            required=True,
            low=0.0,
            low_allowed=False,
            high=1000.0,
            bound_reason="diodes here are rated up to 1000 A",
            example="10 A",
            shown_unit="A",
        ),
        Parameter(
            "drop",
            "voltage",
            "what is lost over it at its rated current",
            default=0.45,
            low=0.01,
            high=3.0,
            bound_reason="diodes lose between 10 mV and 3 V",
            basis="0.35 to 0.5 V for Schottky diodes is common practice, no source",
            example="0.45 V",
            shown_unit="V",
        ),
        Parameter(
            "drop_small",
            "voltage",
            "what is lost over it at a hundredth of its rated current",
            default=0.30,
            low=0.0,
            high=3.0,
            bound_reason="diodes lose at most 3 V",
            basis="some 60 mV a decade of current below the rated drop, resistance aside, from "
            "memory",
            example="0.3 V",
            shown_unit="V",
        ),
    )
    terminals = (
        Terminal("in", "where current enters (anode)", main=True),
        Terminal("out", "where it leaves (cathode)"),
    )
    derived = ("knee", "span")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Where the current begins, and the volts from there to the rated current."""
        drop, small = float(p["drop"]), float(p["drop_small"])
        if small >= drop:
            raise ParameterProblem(
                "drop_small",
                f"loses {small:.4g} V at a hundredth of its rating, which is not below the "
                f"{drop:.4g} V at its rating",
                f"about {0.67 * drop:.2g} V would be usual",
            )
        span = (drop - small) / (1.0 - SMALL_PLACE)
        if span > drop:
            raise ParameterProblem(
                "drop_small",
                f"{small:.4g} V at a hundredth of its rating is too little beside {drop:.4g} V at "
                "its rating: it would pass current with no drop at all",
                f"about {0.67 * drop:.2g} V would be usual",
            )
        return {"knee": drop - span, "span": span}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Currents into both ends [A]."""
        amps = forward_amps(v.in_ - v.out, p)
        return amps, -amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Drop times current [W]."""
        return (v.in_ - v.out) * i[0]
