"""A USB-C supply that does not give what hangs on it needs."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.least_volts import least_volts_of, most_volts_of


class UsbProfile(Rule):
    """Volts of the profile against the load's window, and other outlets of one budget."""

    interface = 1
    name = "usb-profile"
    summary = "a USB-C supply's profile suits its load, and no other outlet can take its power away"
    why = "12 V is optional: many give 5 V instead; a second device makes the first drop out"
    limit_from = "published"
    source = "USB Power Delivery: 5, 9, 15 and 20 V; above 3 A a marked 5 A cable"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for supply in inquiry.devices:
            if supply.model.name != "usb_c_supply":
                continue
            volts = float(supply.values["output_volts"])
            for load in inquiry.devices:
                least, most = least_volts_of(load), most_volts_of(load)
                out = f"{supply.name}.out"
                if load.kind != "load" or inquiry.supply_terminal(load.name) not in (
                    inquiry.joined(out)
                ):
                    continue
                fits = (least is None or volts >= least) and (most is None or volts <= most)
                message = (
                    f"`{supply.name}` gives {volts:.0f} V and `{load.name}` works from {least} V "
                    f"to {most} V"
                )
                yield Reading(
                    load.name, None if fits else "fail", "" if fits else message, volts, least, "V"
                )
            others = float(supply.values["other_outlets"])
            shared = others > 0.0
            message = (
                f"other outlets of `{supply.name}` may take {others:.0f} W: when a device joins "
                "there, what hangs here drops out while they agree anew"
            )
            yield Reading(
                supply.name, "warn" if shared else None, message if shared else "", others, 0.0, "W"
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        device = inquiry.device(reading.subject)
        if device.model.name == "usb_c_supply":
            words = "a supply of its own for what must not drop out"
            return Remedy(words, (SetValue(device.name, "other_outlets", 0.0),))
        return Remedy("another profile, or a device that takes this one")
