"""What opens the sooner the more it carries: shared by the fuse and the breaker."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, elementwise, where


@elementwise
def has_opened(latch: Elementwise, level: Elementwise) -> Elementwise:
    """True once its latch has set, or in the step at whose start the level is full."""
    return (latch > 0.5) | (level >= 1.0)


@elementwise
def level_rate(
    amps: Elementwise,
    over: Elementwise,
    full_rate: Elementwise,
    level: Elementwise,
    cools_s: Elementwise,
) -> Elementwise:
    """How fast the level changes [1/s]: it grows with the square of what the current, in ratings,
    is above `over`, and is forgotten below."""
    beyond = np.abs(amps) - over
    return where(beyond > 0.0, full_rate * beyond**2, -level / cools_s)
