"""A store as a voltage behind a resistance, from its own law."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import FloatArray
from copperpath.solver.laws import law_inputs
from copperpath.solver.problem import SlotData

STEPS = 60
LOOK_V = 0.05
"""Voltage below the open one at which the resistance is taken [V]."""


def as_source(
    data: SlotData, states: list[float], drives: list[float] | FloatArray
) -> tuple[float, float]:
    """Open-circuit voltage [V] and resistance [ohm] of a store in given states."""

    def into(volts: float) -> float:
        count = len(data.shape.v_fields)
        given: Any = law_inputs(data, [volts] * count, list(states), list(drives))
        return float(data.shape.currents(data.slot.device.model.law(*given))[0])

    low, high = 0.0, 1000.0
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if into(middle) >= 0.0 else (middle, high)
    amps = -into(low - LOOK_V)
    return low, LOOK_V / amps if amps > 1e-9 else 1e6
