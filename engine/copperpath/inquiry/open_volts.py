"""The highest voltage that can stand at a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from copperpath.inquiry.inquiry import StationInquiry


def highest_volts(inquiry: StationInquiry, terminal: str) -> float:
    """Of a panel's side its open-circuit volts in the cold; elsewhere the most of the high corner
    and of what anything joined to it pushes [V]."""
    if terminal in inquiry.panel_side:
        return inquiry.panel_side[terminal]
    found = [inquiry.high.volts.get(terminal, 0.0)]
    joined = inquiry.joined(terminal)
    for giver, device in inquiry.wiring.giving.items():
        pushes = device.model.pushes
        if pushes and giver in joined:
            found.append(float(device.values[pushes]))
    return max(found)
