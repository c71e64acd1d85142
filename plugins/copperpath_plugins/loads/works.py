"""The window of voltages of a load that is made for direct current."""

from __future__ import annotations

from copperpath.plugin_api import Window


def works_window(low: float, high: float, basis: str) -> Window:
    """`works 9 V .. 30 V`, with a default and where it is from."""
    return Window(
        "works",
        "voltage",
        "the voltages at its terminals between which it works",
        default=(low, high),
        low=0.5,
        high=100.0,
        bound_reason="supplies here are between 0.5 V and 100 V",
        basis=basis,
        example=f"{low:g} V .. {high:g} V",
        shown_unit="V",
    )
