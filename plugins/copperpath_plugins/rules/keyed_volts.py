"""Volts at a radio, or any load, at the worst instant."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.least_volts import dead_line, least_volts_of
from copperpath_plugins.rules.wire_growth import grown_for_volts

THIN_V = 0.3


class KeyedVolts(Rule):
    """Rest voltage less current times resistance, at the worst instant."""

    interface = 1
    name = "keyed-volts"
    summary = "each load has its least voltage at the worst instant, with 0.3 V to spare"
    why = "a radio that falls below its least voltage resets when it is keyed"
    limit_from = "the file"
    source = "the least voltage the file gives for the load; 0.3 V to spare is common practice"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        corner = inquiry.low
        radios = any(each.model.keying is not None for each in inquiry.devices)
        keyed = "all keyed" if radios else "everything on"
        for device in inquiry.devices:
            # The rule on converters' inputs speaks of those.
            least = least_volts_of(device) if device.kind == "load" else None
            terminal = inquiry.supply_terminal(device.name)
            if least is None or terminal not in corner.volts or device.name in corner.opened:
                continue
            if dead_line(inquiry, terminal):
                continue
            volts = corner.volts[terminal]
            spare = volts - least
            if spare >= THIN_V:
                yield Reading(device.name, None, value=volts, limit=least + THIN_V, unit="V")
            elif spare >= 0.0:
                yield Reading(
                    device.name,
                    "warn",
                    f"`{device.name}` has {volts:.2f} V with {keyed}, {spare:.2f} V above the "
                    f"{least:.2f} V it needs; {THIN_V} V to spare are wanted",
                    volts,
                    least + THIN_V,
                    "V",
                )
            else:
                yield Reading(
                    device.name,
                    "fail",
                    f"`{device.name}` falls to {volts:.2f} V with {keyed} and needs {least:.2f} V",
                    volts,
                    least + THIN_V,
                    "V",
                )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        """The smallest larger wire on the cable of its way that loses most; then on the others."""
        wanted = reading.limit or 0.0
        otherwise = "a higher supply voltage, fewer radios keyed at once, less power"
        return grown_for_volts(inquiry, reading.subject, wanted, otherwise)
