"""Current out of a battery at the worst instant against what its board lets through."""

from __future__ import annotations

import math
from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, NeverTogether, Reading, Remedy, Rule
from copperpath_plugins.rules.fuse_sizes import SLACK_A
from copperpath_plugins.rules.stores import LITHIUM, rated_amps

USUAL_C = 1.0


class BatteryTrips(Rule):
    """The worst instant against the board's limit, or the rated charge in an hour."""

    interface = 1
    name = "battery-trips"
    summary = "a lithium battery's board lets through what flows at the worst instant"
    why = "the board opens and everything is off at once, keyed or not"
    limit_from = "the file"
    source = "the battery's `discharge_limit`; else its rated charge in an hour, from memory"
    levels = ("fail",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for store in inquiry.devices:
            terminal = inquiry.supply_terminal(store.name)
            if store.model.name not in LITHIUM or terminal not in inquiry.low.into:
                continue
            amps = -inquiry.low.into[terminal]
            limit = float(store.values.get("discharge_limit", math.nan))
            how = "its board lets through"
            if not math.isfinite(limit):
                limit, how = USUAL_C * rated_amps(store), "most boards of its size let through"
            over = amps > limit + SLACK_A
            message = f"`{store.name}` gives {amps:.1f} A with all keyed; {how} {limit:.1f} A"
            yield Reading(store.name, "fail" if over else None, message, amps, limit, "A")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        keyed = [each.name for each in inquiry.devices if each.model.keying is not None]
        free = [n for n in keyed if not any(n in group for group in inquiry.never_together)]
        limit = reading.limit or 0.0
        if len(free) > 1:
            edit = NeverTogether(tuple(free))
            terminal = inquiry.supply_terminal(reading.subject)
            if -inquiry.edited(edit).low.into.get(terminal, -math.inf) <= limit + SLACK_A:
                return Remedy(f"`never together {', '.join(free)}`, and keep to it", (edit,))
        return Remedy("a second battery side by side, or less power")
