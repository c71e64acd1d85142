"""What charge controllers between panels and a battery share: when they wake, what they draw."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import (
    Choice,
    Elementwise,
    Parameter,
    ParameterProblem,
    Suspect,
    Values,
    constant_current,
    elementwise,
)

LEAST_IDLE_A = 1e-4
"""A controller always draws this much, as its voltage divider does: a choice. Without it a
controller that nobody draws from stands on the very corner of its own curve."""

START_VOLTAGE = Parameter(
    "start_voltage",
    "voltage",
    "the least voltage at the battery side at which it wakes",
    default=8.0,
    low=1.0,
    high=100.0,
    bound_reason="batteries here have between 1 V and 100 V",
    basis="small controllers need 7 to 9 V to run, from memory",
    example="8 V",
    shown_unit="V",
)

COMMON = Choice(
    "common",
    ("unknown", "negative", "positive"),
    "which conductor panels and battery share in it; for the wiring rules alone",
    default="unknown",
    basis="most handbooks say it, nothing can be taken",
)

OWN_DRAW = Suspect(
    "the controller's own draw",
    "a controller with a smaller idle current",
    (("idle", 0.0),),
    sizing=True,
)


def check_wakes_below_charging(p: Values) -> None:
    """Raise `ParameterProblem` if it wakes only at or above the voltage it charges to."""
    if float(p["start_voltage"]) >= float(p["absorb"]):
        raise ParameterProblem(
            "start_voltage",
            f"wakes at {float(p['start_voltage']):.4g} V, but charges only up to "
            f"{float(p['absorb']):.4g} V",
            "the voltage it wakes at lies well below the charging voltage",
        )


@elementwise
def idle_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """What it draws from the battery side day and night [A]."""
    return constant_current(v.battery, np.maximum(p.idle, LEAST_IDLE_A), p.start_voltage)
