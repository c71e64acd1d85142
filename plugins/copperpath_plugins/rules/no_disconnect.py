"""A source or a store that nothing can take off."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.fuse_sizes import carries_mains
from copperpath_plugins.rules.panel_volts import controllers, panels_at

OPENING = ("switch", "breaker", "fuse", "disconnect", "isolator")


class NoDisconnect(Rule):
    """A switch, a breaker, a fuse that can be pulled or a plug, on every lead."""

    interface = 1
    name = "no-disconnect"
    summary = "each battery and each source has something on its leads that a hand can open"
    why = "in a fire or at work on the wiring there must be a way to kill it"
    limit_from = "common practice"
    source = "a fuse that can be pulled and a plug count; local codes ask more of fixed sites"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        # The rule on the order of battery and panels speaks of those that lead to a controller.
        led = {
            panel.name
            for _, terminal in controllers(inquiry)
            for panel in panels_at(inquiry, terminal)
        }
        for device in inquiry.devices:
            if device.kind not in ("source", "storage") or device.name in led:
                continue
            bare = [
                cable.name
                for cable in inquiry.cables_at(device.name)
                if not carries_mains(inquiry, cable) and not _opens(inquiry, cable.name)
            ]
            if not bare:
                yield Reading(device.name, None)
                continue
            message = f"no hand can open `{bare[0]}` to take `{device.name}` off"
            yield Reading(device.name, "warn", message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a dc switch, a breaker or a plug in that lead, within reach of a hand")


def _opens(inquiry: Inquiry, cable: str) -> bool:
    found = inquiry.cable(cable)
    devices: list[DeviceView] = [inquiry.device(end.device) for end in (found.start, found.end)]
    blocks = any(device.model.name in OPENING for device in devices)
    return bool(found.fuses) or bool(found.joints) or blocks
