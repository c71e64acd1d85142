"""Numbers that both executors and the ledger share."""

from __future__ import annotations

LEAK_S = 1e-9
"""Conductance from every node to the common side [S]; keeps floating parts regular."""

MOST_ITERATIONS = 250

LONG_SEARCH = 24
"""A search that takes more iterations than this is given up for `settle`: after so many turns
rounding decides where it ends, if there is more than one place."""

SETTLE_FROM_S = 10.0
MOST_SETTLING = 250
PATIENT_SETTLING = 20_000
SETTLED_A = 1e-6
"""The first capacitor of a settling [S], its most turns, those of the last attempt when nothing
else has found a point, and the current [A] left at a node at which it is over."""

ONE_VOLT_STEPS_TO_V = 16.0
"""A node moves by at most a volt in a turn up to this level, in proportion above it."""

DEAD_SHARE = 0.05
"""A load that stands below this share of its least voltage draws next to nothing, so nothing is
won by giving it up."""

DELAY_SLACK_S = 1e-6
"""Rounding of summed step lengths within which a delay counts as over."""

SLOPE_STEP = 1e-7
"""Volts between the two points of a slope. Closer, rounding shows; wider, corners blur."""

OFFER_POINTS = 24
"""Points of the table of most power against lowest admissible voltage, for each step and zone."""

TABLE_BYTES = 2 * OFFER_POINTS * 8
"""Of that table: voltages, then powers."""

SCAN = 12
SCAN_FROM = 0.3
"""The scan for the best panel voltage: so many voltages from this share of open circuit up."""

SLOPE_SHARE = 2e-4
"""Half-width of the difference that gives the power's slope, as a share of open circuit."""

ROUNDS = 60
"""Most rounds of a regula falsi."""

ALL_OF_IT = 1.0 - 1e-9
"""From this share of the most power on, a controller counts as taking all of it: so near the top
of the hump rounding in the power would move the panel's voltage by a tenth of a millivolt."""
