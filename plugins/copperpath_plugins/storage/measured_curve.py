"""A rest voltage that the file gives point by point, as a law can read it."""

from __future__ import annotations

from typing import Any

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

PERCENTS = (0, 5, 10, 15, 20, 30, 40, 50, 60, 70, 80, 90, 100)
"""Charges at which it may be given: closer where the curves of lithium cells bend."""

CURVE_DERIVED = tuple(f"cell_volts_at_{percent}" for percent in PERCENTS)


def curve_parameters(
    charges: tuple[float, ...], cell_v: tuple[float, ...], basis: str
) -> tuple[Parameter, ...]:
    """One voltage for each point, none of which must be given; (charges, cell_v) is the usual
    curve, which the examples show [V]."""
    return tuple(
        Parameter(
            f"rest_{percent}",
            "voltage",
            f"rest voltage of a cell at a charge of {percent} %; the usual one if not given",
            low=0.5,
            high=5.0,
            bound_reason="cells rest between 0.5 V and 5 V",
            basis=basis,
            example=f"{np.interp(percent / 100.0, charges, cell_v):.4g} V",
            shown_unit="V",
        )
        for percent in PERCENTS
    )


def curve_values(
    p: Values, charges: tuple[float, ...], cell_v: tuple[float, ...]
) -> dict[str, float]:
    """Values for `CURVE_DERIVED`; (charges, cell_v) is the usual curve of a cell [V].

    Raises
    ------
    ParameterProblem
        If the curve falls anywhere.
    """
    found: dict[str, float] = {}
    before = 0.0
    for percent, name in zip(PERCENTS, CURVE_DERIVED, strict=True):
        value = given(p, f"rest_{percent}")
        found[name] = float(np.interp(percent / 100.0, charges, cell_v)) if value is None else value
        if found[name] < before:
            raise ParameterProblem(
                f"rest_{percent}",
                f"the rest voltage of a cell falls from {before:.4g} V to {found[name]:.4g} V "
                f"at a charge of {percent} %; it rises with the charge",
                "give the other points of the curve too: those that are not given are the usual "
                "ones",
            )
        before = found[name]
    return found


@elementwise
def curve_at(x: Elementwise, p: Elementwise) -> Elementwise:
    """Rest voltage of a cell [V] at a charge: straight lines, level beyond both ends."""
    low = (
        p.cell_volts_at_0
        + (p.cell_volts_at_5 - p.cell_volts_at_0) * between(20.0 * x, 0.0, 1.0)
        + (p.cell_volts_at_10 - p.cell_volts_at_5) * between(20.0 * x - 1.0, 0.0, 1.0)
        + (p.cell_volts_at_15 - p.cell_volts_at_10) * between(20.0 * x - 2.0, 0.0, 1.0)
        + (p.cell_volts_at_20 - p.cell_volts_at_15) * between(20.0 * x - 3.0, 0.0, 1.0)
    )
    middle = (
        (p.cell_volts_at_30 - p.cell_volts_at_20) * between(10.0 * x - 2.0, 0.0, 1.0)
        + (p.cell_volts_at_40 - p.cell_volts_at_30) * between(10.0 * x - 3.0, 0.0, 1.0)
        + (p.cell_volts_at_50 - p.cell_volts_at_40) * between(10.0 * x - 4.0, 0.0, 1.0)
        + (p.cell_volts_at_60 - p.cell_volts_at_50) * between(10.0 * x - 5.0, 0.0, 1.0)
    )
    high = (
        (p.cell_volts_at_70 - p.cell_volts_at_60) * between(10.0 * x - 6.0, 0.0, 1.0)
        + (p.cell_volts_at_80 - p.cell_volts_at_70) * between(10.0 * x - 7.0, 0.0, 1.0)
        + (p.cell_volts_at_90 - p.cell_volts_at_80) * between(10.0 * x - 8.0, 0.0, 1.0)
        + (p.cell_volts_at_100 - p.cell_volts_at_90) * between(10.0 * x - 9.0, 0.0, 1.0)
    )
    return low + middle + high


def curve_area(charge: Any, p: Any) -> Any:
    """Area under the curve from no charge to `charge` [V]."""
    ends = [getattr(p, name) for name in CURVE_DERIVED]
    area = ends[0] * charge
    for place in range(len(PERCENTS) - 1):
        start, end = PERCENTS[place] / 100.0, PERCENTS[place + 1] / 100.0
        inside = np.clip(charge, start, end) - start
        beyond = np.maximum(charge - end, 0.0)
        rise = ends[place + 1] - ends[place]
        area = area + rise * (0.5 * inside**2 / (end - start) + beyond)
    return area
