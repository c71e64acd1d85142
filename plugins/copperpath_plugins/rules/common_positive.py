"""A controller that switches the negative, among bonded negatives."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.panel_volts import controllers


class CommonPositive(Rule):
    """Which conductor panels and battery share in the controller, and whether negatives are
    bonded."""

    interface = 1
    name = "common-positive"
    summary = "where negatives are bonded no controller has its positive in common"
    why = "its two negatives are unlike nodes: chassis and coax join them, and it burns"
    limit_from = "the file"
    source = "the controller's `common`"
    levels = ("danger", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if not inquiry.bonds:
            return
        for device, terminal in controllers(inquiry):
            common = str(device.values.get("common", ""))
            if common == "negative" or not common:
                yield Reading(device.name, None, place=terminal)
            elif common == "positive":
                message = (
                    f"`{device.name}` has its positive in common, and negatives are bonded to "
                    f"`{inquiry.bonds[0].end}`"
                )
                yield Reading(device.name, "danger", message, place=terminal)
            else:
                message = (
                    f"negatives are bonded, and the file does not say which conductor is common in "
                    f"`{device.name}`"
                )
                yield Reading(device.name, "warn", message, place=terminal)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        edit = SetValue(reading.subject, "common", "negative")
        if reading.level == "warn":
            return Remedy("`common negative` if its handbook says so", (edit,))
        return Remedy("a controller with a common negative", (edit,))
