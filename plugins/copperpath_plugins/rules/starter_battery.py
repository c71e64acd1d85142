"""Loads on the battery that has to start an engine."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.stores import LEAD, stores_at

RESERVE = 0.7


class StarterBattery(Rule):
    """Loads joined by wires to a vehicle's battery, and how far it is planned down."""

    interface = 1
    name = "starter-battery"
    summary = "loads on a starter battery leave 70 % of its charge"
    why = "the radios worked, the vehicle does not start"
    limit_from = "common practice"
    source = "30 % of its rating, or 12.2 V at rest"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for store in starters(inquiry):
            joined = inquiry.joined(inquiry.supply_terminal(store.name))
            loads = [
                each.name
                for each in inquiry.devices
                if each.kind == "load" and inquiry.supply_terminal(each.name) in joined
            ]
            reserve = float(store.values["reserve"])
            low = bool(loads) and reserve < RESERVE - 1e-9
            message = (
                f"`{loads[0] if loads else ''}` hangs on `{store.name}`, which starts an engine "
                f"and is planned down to {100.0 * reserve:.0f} %; it needs {100.0 * RESERVE:.0f} %"
            )
            yield Reading(
                store.name,
                "warn" if low else None,
                message,
                100.0 * reserve,
                100.0 * RESERVE,
                "%",
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        words = "`reserve 70 %`, or an isolator or vehicle charger between it and the loads"
        return Remedy(words, (SetValue(reading.subject, "reserve", RESERVE),))


def starters(inquiry: Inquiry) -> list[DeviceView]:
    """Lead-acid batteries that a vehicle charger draws on or an alternator feeds."""
    found: dict[str, DeviceView] = {}
    for device in inquiry.devices:
        terminal = ""
        if device.model.name == "dc_charger":
            terminal = f"{device.name}.vehicle"
        elif device.model.name == "alternator":
            terminal = inquiry.supply_terminal(device.name)
        for store in stores_at(inquiry, terminal) if terminal else []:
            if store.model.name in LEAD:
                found[store.name] = store
    return list(found.values())
