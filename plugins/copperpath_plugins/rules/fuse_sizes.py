"""Which fuse fits a cable: not below a quarter more than what flows, not above its ampacity."""

from __future__ import annotations

from copperpath.plugin_api import CableView, Inquiry
from copperpath_plugins.rules.terminals import terminals_of

CONTINUOUS = 1.25
"""NEC 210.20(A): a device opens at 125 % of what flows for hours."""

SLACK_A = 1e-3
"""Currents closer than this are alike: beside what loads draw, the solution has tiny leaks."""


def lasting_amps(inquiry: Inquiry, cable: CableView) -> float:
    """What flows in a cable for as long as radios send, or chargers push [A]."""
    corners = (inquiry.sending, inquiry.charging, inquiry.high)
    return max(abs(corner.amps.get(cable.name, 0.0)) for corner in corners)


def fitting_fuse(inquiry: Inquiry, cable: CableView) -> float | None:
    """The smallest standard rating that carries what flows and is within the ampacity [A]; None
    if there is none."""
    least = max(CONTINUOUS * lasting_amps(inquiry, cable), abs(peak_amps(inquiry, cable)))
    ampacity = inquiry.ampacity(cable)
    for rating in inquiry.fuse_ratings(cable.facts.fuse_kind):
        if rating >= least - SLACK_A:
            return rating if ampacity is None or rating <= ampacity.amps + SLACK_A else None
    return None


def peak_amps(inquiry: Inquiry, cable: CableView) -> float:
    """What flows in a cable at the worst instant [A]."""
    return max(abs(inquiry.low.amps.get(cable.name, 0.0)), lasting_amps(inquiry, cable))


def carries_mains(inquiry: Inquiry, cable: CableView) -> bool:
    """True for a cable on mains terminals, which local codes and licensed people decide."""
    for end in (cable.start, cable.end):
        for name, terminal in terminals_of(inquiry.device(end.device)):
            if terminal.alternating and name == str(end):
                return True
    return False
