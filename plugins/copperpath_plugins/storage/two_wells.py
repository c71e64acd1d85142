"""Charge in two wells: why a lead-acid battery gives less when it is emptied fast.

The kinetic battery model of J. F. Manwell and J. G. McGowan, "Lead acid battery storage model for
hybrid energy systems", Solar Energy 50 (1993) 399. A share c of the charge is available at once,
the rest is bound and flows over at a rate that goes with the difference of the heads:

    dq1/dt = -I - k (h1 - h2),   dq2/dt = k (h1 - h2),   h1 = q1 / c,   h2 = q2 / (1 - c)

Its two unknowns part: the total q1 + q2 only adds up the current, and the gap h2 - h1 follows a
target with the time constant tau = c (1 - c) / k:

    d(gap)/dt = (I tau / c - gap) / tau,   h1 = total - (1 - c) gap

So an `Accumulator` and a `Lag` carry it without any error of the step while the current is steady.
Heads, total and gap are shares of the charge it holds at no current at all.
"""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Elementwise, elementwise

EXPONENTS = (1.05, 1.10, 1.15, 1.20, 1.25, 1.30, 1.40, 1.50, 1.60)
AVAILABLE_SHARES = (0.8246, 0.6921, 0.5896, 0.5086, 0.4436, 0.3906, 0.3102, 0.2530, 0.2107)
TAUS_H = (2.972, 2.780, 2.615, 2.472, 2.347, 2.237, 2.050, 1.898, 1.771)
"""Wells that give the capacities of Peukert's law, C(t) / C(20 h) = (t / 20 h)^(1 - 1/n), by least
squares between one and twenty hours. They miss it by at most 0.8 % at n = 1.05, 1.5 % at 1.1,
2.8 % at 1.2, 3.8 % at 1.3, 5.9 % at 1.6."""


def wells_for(exponent: float) -> tuple[float, float]:
    """Share of the available well, and the time constant of the gap [s], for an exponent."""
    share = float(np.interp(exponent, EXPONENTS, AVAILABLE_SHARES))
    return share, 3600.0 * float(np.interp(exponent, EXPONENTS, TAUS_H))


def rated_share(hours_s: float, available: float, tau_s: float) -> float:
    """What a steady current draws in so long a time, as a share of all the charge there is.

    Manwell and McGowan 1993: q = k' c t / (1 - exp(-k' t) + c (k' t - 1 + exp(-k' t))),
    k' = 1 / tau. At n = 1.1 and 20 h: 0.942.
    """
    turns = hours_s / tau_s
    gone = 1.0 - np.exp(-turns)
    return float(available * turns / (gone + available * (turns - gone)))


@elementwise
def available_head(
    total: Elementwise, gap: Elementwise, available_share: Elementwise
) -> Elementwise:
    """Head of the well that gives the current."""
    return total - (1.0 - available_share) * gap


@elementwise
def gap_target(
    share_per_s: Elementwise, available_share: Elementwise, tau: Elementwise
) -> Elementwise:
    """Where the gap goes while the total falls by `share_per_s` (negative while charging)."""
    return share_per_s * tau / available_share


@elementwise
def flow_between(gap: Elementwise, available_share: Elementwise, tau: Elementwise) -> Elementwise:
    """What flows from the bound well to the available one, as a share of all charge [1/s]."""
    return available_share * (1.0 - available_share) * gap / tau
