"""Which fuse fits a cable: not below a quarter more than what flows, not above its ampacity."""

from __future__ import annotations

from copperpath.plugin_api import CableView, Inquiry

CONTINUOUS = 1.25
"""NEC 210.20(A): a device opens at 125 % of what flows for hours."""


def lasting_amps(inquiry: Inquiry, cable: CableView) -> float:
    """What flows in a cable for as long as radios send, or full sun shines [A]."""
    sending = abs(inquiry.sending.amps.get(cable.name, 0.0))
    return max(sending, abs(inquiry.high.amps.get(cable.name, 0.0)))


def fitting_fuse(inquiry: Inquiry, cable: CableView) -> float | None:
    """The smallest standard rating that carries what flows and is within the ampacity [A]; None
    if there is none."""
    least = max(CONTINUOUS * lasting_amps(inquiry, cable), abs(peak_amps(inquiry, cable)))
    ampacity = inquiry.ampacity(cable)
    for rating in inquiry.fuse_ratings(cable.facts.fuse_kind):
        if rating >= least - 1e-9:
            return rating if ampacity is None or rating <= ampacity.amps + 1e-9 else None
    return None


def peak_amps(inquiry: Inquiry, cable: CableView) -> float:
    """What flows in a cable at the worst instant [A]."""
    low = abs(inquiry.low.amps.get(cable.name, 0.0))
    return max(low, abs(inquiry.high.amps.get(cable.name, 0.0)))
