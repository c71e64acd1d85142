"""Batteries that may not be flown."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.stores import LITHIUM

FREE_WH = 100.0
ASK_WH = 160.0
CARRIED_KG = 25.0


class MassAndFlight(Rule):
    """Watt-hours of each lithium battery of a station that can be carried."""

    interface = 1
    name = "mass-and-flight"
    summary = "lithium batteries of a station that is carried are below what may be flown"
    why = "it is taken away at the gate"
    limit_from = "from memory"
    source = "IATA: 100 Wh free, up to 160 Wh ask the carrier, above that not; each carrier decides"
    levels = ("note",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if inquiry.mass_kg > CARRIED_KG:
            return
        for store in inquiry.devices:
            if store.model.name not in LITHIUM:
                continue
            volts = 3.6 if store.model.name == "lithium_ion" else 3.2
            hours = float(store.values["capacity"]) / 3600.0 * volts * float(store.values["cells"])
            over = hours > FREE_WH
            what = f"above {FREE_WH:.0f} Wh the carrier must be asked"
            if hours > ASK_WH:
                what = f"above {ASK_WH:.0f} Wh none may be flown"
            message = f"`{store.name}` holds {hours:.0f} Wh; {what}"
            yield Reading(store.name, "note" if over else None, message, hours, FREE_WH, "Wh")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("several smaller batteries, or one bought at the other end")
