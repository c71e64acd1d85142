"""A heater that takes more than the sun brings."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.panel_volts import is_panel

MOST_H = 0.5


class WarmerEatsHarvest(Rule):
    """Energy of a heater that never pauses, in hours of full sun on all panels."""

    interface = 1
    name = "warmer-eats-harvest"
    summary = "a heater on the battery takes less than half an hour of full sun a day"
    why = "pads fed from the battery they warm were a net loss in the field"
    limit_from = "common practice"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        sun = sum(
            float(p.values["power"]) * float(p.values["series"]) * float(p.values["parallel"])
            for p in inquiry.devices
            if is_panel(p)
        )
        stores = any(device.kind == "storage" for device in inquiry.devices)
        for heater in inquiry.devices:
            if "rated_at" not in heater.values or sun <= 0.0 or not stores:
                continue
            if heater.model.spare:
                yield Reading(heater.name, None)
                continue
            hours = 24.0 * float(heater.values["power"]) / sun
            over = hours > MOST_H
            message = (
                f"`{heater.name}` may take {24.0 * float(heater.values['power']):.0f} Wh a day, "
                f"what all panels give in {hours:.1f} h of full sun, and runs from the battery; "
                f"{MOST_H:g} h is allowed"
            )
            yield Reading(heater.name, "warn" if over else None, message, hours, MOST_H, "h")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("`runs on surplus`, so that it takes only what the sun has left over")
