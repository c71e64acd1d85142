"""What sources with an electronic output share: their own draw, and a power at a held voltage."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, between, elementwise

BLEED_S = 1e-4
"""What its own divider and meter take at the output, on or off, 1.4 mA at 14 V: from memory. With
nothing connected it also keeps the output clear of the corner where regulation begins."""

FADE_SHARE = 0.02
"""Last share of the held voltage over which the power fades to nothing, 0.3 V at 14.4 V: from
memory."""

LEAST_SHARE = 0.5
"""Share of the held voltage below which the current grows no further: a choice."""


@elementwise
def power_amps(volts: Elementwise, watts: Elementwise, held: Elementwise) -> Elementwise:
    """Current of an output that gives so many watts up to the voltage at which it holds [A]."""
    fade = between((held - volts) / (FADE_SHARE * held), 0.0, 1.0)
    return fade * watts / np.maximum(volts, LEAST_SHARE * held)
