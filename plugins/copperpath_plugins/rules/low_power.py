"""Power that a radio loses to low volts."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.wire_growth import grown_for_volts

NOMINAL_V = 13.8
LOST_V = 1.5
LEAST_SHARE = 0.73


class LowPower(Rule):
    """Output falls about with the square of the volts less those that the stage itself needs."""

    interface = 1
    name = "low-power"
    summary = "each radio for 13.8 V has the 12.0 V of 73 % of its power when keyed"
    why = "a radio that works is not yet one that is heard, and the signal may splatter or drift"
    limit_from = "common practice"
    source = "output about as (volts less 1.5)², 12.0 V gives 73 % of that at 13.8 V; no standard"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.model.keying is None or "works_high" not in device.values:
                continue
            terminal = inquiry.supply_terminal(device.name)
            made_for_138 = float(device.values["works_high"]) >= 15.0
            if not made_for_138 or terminal not in inquiry.low.volts:
                continue
            volts = inquiry.low.volts[terminal]
            share = min((max(volts - LOST_V, 0.0) / (NOMINAL_V - LOST_V)) ** 2, 1.0)
            low = share < LEAST_SHARE
            message = (
                f"`{device.name}` has {volts:.2f} V when keyed, enough for about "
                f"{100.0 * share:.1f} % of its power at {NOMINAL_V} V; "
                f"{100.0 * LEAST_SHARE:.0f} % are wanted"
            )
            yield Reading(
                device.name,
                "warn" if low else None,
                message,
                100.0 * share,
                100.0 * LEAST_SHARE,
                "%",
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        wanted = LOST_V + (NOMINAL_V - LOST_V) * LEAST_SHARE**0.5
        otherwise = "a radio voltage booster with a filter, or a lower power setting"
        return grown_for_volts(inquiry, reading.subject, wanted, otherwise)
