"""Charge that goes in and does not come out again: what charging loses, and self-discharge."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, between, elementwise, where

MONTH_S = 30.0 * 86400.0
DOUBLES_K = 10.0
"""Self-discharge doubles with every ten kelvin: from memory."""


@elementwise
def kept_amps(amps: Elementwise, efficiency: Elementwise) -> Elementwise:
    """What a current adds to the charge [A]; charging adds a share of it alone."""
    return amps * where(amps > 0.0, efficiency, 1.0)


@elementwise
def lost_share(charge: Elementwise, cell: Elementwise, self_rate: Elementwise) -> Elementwise:
    """Self-discharge, as a share of all charge [1/s]; `self_rate` is that of a full battery at
    25 °C, `cell` its temperature [K]."""
    warmth = between(cell, 223.15, 333.15)
    return self_rate * charge * np.exp((warmth - 298.15) / DOUBLES_K * np.log(2.0))
