"""One kind of plug on nets of unlike voltage."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.panel_volts import highest_volts

RATIO = 1.4
FIXED = ("ring", "screw")
"""Kinds that nobody plugs in the dark."""


class SamePlug(Rule):
    """The highest voltage at each joint of a kind, against the lowest of the others."""

    interface = 1
    name = "same-plug"
    summary = "a kind of plug is used at one voltage only"
    why = "in the dark somebody plugs the panel into the radio"
    limit_from = "common practice"
    source = "volts within 1.4 of each other count as one"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        kinds = {joint.kind for cable in inquiry.cables for joint in cable.joints}
        for kind in sorted(kinds - set(FIXED)):
            volts = {
                cable.name: highest_volts(inquiry, str(cable.start))
                for cable in inquiry.cables
                if any(joint.kind == kind for joint in cable.joints)
            }
            low, high = min(volts, key=volts.__getitem__), max(volts, key=volts.__getitem__)
            ratio = volts[high] / volts[low] if volts[low] > 0.0 else 1.0
            over = ratio > RATIO
            message = (
                f"{kind} plugs stand in `{high}` at up to {volts[high]:.1f} V and in `{low}` at "
                f"{volts[low]:.1f} V: one fits the other"
            )
            yield Reading(high, "warn" if over else None, message, ratio, RATIO, "times", kind)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("another kind of plug for the panels, or keyed housings")
