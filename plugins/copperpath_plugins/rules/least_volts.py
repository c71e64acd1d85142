"""The least and the most volts at which a device works, as its model declares them."""

from __future__ import annotations

import math

from copperpath.plugin_api import DeviceView, Inquiry

DEAD_V = 0.1


def least_volts_of(device: DeviceView) -> float | None:
    """Of a load or a converter; None if its model does not say or it takes only what is left."""
    powered = device.model.powered
    if powered is None or device.model.spare or device.kind not in ("load", "converter"):
        return None
    value = float(device.values[powered[1]])
    return value if math.isfinite(value) else None


def most_volts_of(device: DeviceView) -> float | None:
    """The upper end of the same window; None if there is none."""
    powered = device.model.powered
    if powered is None or not powered[1].endswith("_low"):
        return None
    value = float(device.values.get(powered[1].removesuffix("_low") + "_high", math.nan))
    return value if math.isfinite(value) else None


def dead_line(inquiry: Inquiry, terminal: str) -> bool:
    """True if what feeds a terminal gives no volts at the worst instant, as a converter that has
    dropped out; then there is nothing to say of the line."""
    feed = inquiry.feed(terminal)
    return feed is not None and inquiry.low.volts.get(feed.giver, 0.0) < DEAD_V
