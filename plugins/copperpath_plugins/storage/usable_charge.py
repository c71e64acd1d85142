"""How much of the charge can be drawn at a warmth: the cold raises a floor under it."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, Suspect, Values, elementwise, where
from copperpath_plugins.values import given

LOST_TO_COLD = Suspect(
    "capacity lost to cold",
    "as much usable charge as it has at 25 degC",
    (("fixed_available", 1.0),),
    sizing=True,
)
TOO_SMALL = Suspect(
    "the battery is too small", "twice the battery", (("capacity", "*2"),), sizing=True
)
"""What is tried on any battery when a station runs down."""


@elementwise
def floor_under(usual: Elementwise, p: Elementwise) -> Elementwise:
    """Charge, as a share of the rated one, below which nothing can be drawn; `usual` is the share
    that can be at this warmth, unless the file fixes it."""
    return 1.0 - where(p.fixed_available >= 0.0, p.fixed_available, usual)


def floor_at_rest(p: Values, warmths_k: tuple[float, ...], usable: tuple[float, ...]) -> float:
    """The floor that the file fixes, or that at the battery's fixed temperature; at 25 °C where it
    follows the air, as the air is not known before a run."""
    fixed = given(p, "available")
    if fixed is not None:
        return 1.0 - fixed
    rule = p.get("temperature")
    warmth = 298.15 if rule is None or rule.fixed_k is None else rule.fixed_k
    return 1.0 - float(np.interp(warmth, warmths_k, usable))
