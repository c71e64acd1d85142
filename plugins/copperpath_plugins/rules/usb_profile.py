"""A USB-C supply that does not give what hangs on it needs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, LevelWord, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.least_volts import least_volts_of, most_volts_of

PROFILES = (
    ("five_volts", 5.0),
    ("nine_volts", 9.0),
    ("fifteen_volts", 15.0),
    ("twenty_volts", 20.0),
)
"""Fixed voltages that every supply of enough power has: USB Power Delivery."""


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
                level: LevelWord | None = None if fits else "fail"
                place = supply.name
                yield Reading(load.name, level, message, volts, least, "V", place)
            twelve = supply.values["profile"] == "twelve_volts"
            message = (
                f"`{supply.name}` is to give 12 V, which is optional: many supplies and devices "
                "have 9 V and 15 V only, and fall back to 5 V"
            )
            yield Reading(supply.name, "warn" if twelve else None, message, place="profile")
            others = float(supply.values["other_outlets"])
            shared = others > 0.0
            message = (
                f"other outlets of `{supply.name}` may take {others:.0f} W: when a device joins "
                "there, what hangs here drops out while they agree anew"
            )
            yield Reading(supply.name, "warn" if shared else None, message, others, 0.0, "W")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        device = inquiry.device(reading.subject)
        if reading.place == "profile":
            return Remedy("a supply that says 12 V on it, tried with this device")
        if device.model.name == "usb_c_supply":
            words = "a supply of its own for what must not drop out"
            return Remedy(words, (SetValue(device.name, "other_outlets", 0.0),))
        least, most = least_volts_of(device) or 0.0, most_volts_of(device) or math.inf
        for profile, volts in PROFILES:
            if least <= volts <= most:
                edit = SetValue(reading.place, "profile", profile)
                return Remedy(f"`profile {profile}` ({volts:.0f} V) for `{reading.place}`", (edit,))
        return Remedy("a device that takes 5, 9, 15 or 20 V, or a converter")
