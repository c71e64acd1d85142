"""Current of a panel at a voltage, by pvlib's single-diode solver: an answer of somebody else's
to hold our law against."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from copperpath.plugin_api import FloatArray


def panel_amps(drives: Mapping[str, FloatArray], volts: FloatArray) -> FloatArray:
    """Current given at `volts`, shape of the drives [A]."""
    from pvlib.pvsystem import i_from_v

    shunt = np.maximum(drives["shunt"], 1e-12)
    return np.asarray(
        i_from_v(
            volts,
            drives["photocurrent"],
            drives["saturation"],
            drives["series"],
            1.0 / shunt,
            drives["slope"],
            method="newton",
        ),
        dtype=np.float64,
    )
