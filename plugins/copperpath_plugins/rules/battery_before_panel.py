"""Panels live on a controller without a battery."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.panel_volts import controllers

OPENING = ("switch", "breaker", "fuse")


class BatteryBeforePanel(Rule):
    """Something that opens between panels and controller, so that the battery can come first."""

    interface = 1
    name = "battery-before-panel"
    summary = "panels can be taken off the controller while its battery is not on"
    why = "with the sun on it and no battery a controller may throw panel volts at the loads"
    limit_from = "common practice"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device, terminal in controllers(inquiry):
            joined = inquiry.joined(terminal)
            models = {inquiry.device(name.rpartition(".")[0]).model.name for name in joined}
            plugs = any(
                cable.fuses or cable.joints
                for cable in inquiry.cables
                if str(cable.start) in joined
            )
            if plugs or models & set(OPENING):
                yield Reading(device.name, None)
                continue
            message = (
                f"nothing takes the panels off `{device.name}`: connect its battery first and the "
                "panels last, and take them off in the other order"
            )
            yield Reading(device.name, "warn", message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a dc switch or plug for the panels' volts, or the order on a card")
