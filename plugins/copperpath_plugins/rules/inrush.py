"""What flows into the capacitors of a converter when it is connected."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.stores import LITHIUM, rated_amps

TRIP_C = 10.0
"""Short-circuit trip of boards, in rated charges an hour: from memory."""


class Inrush(Rule):
    """Volts over the resistance of the loop, against where boards trip on a short."""

    interface = 1
    name = "inrush"
    summary = "connecting a converter or an inverter does not trip the battery's board"
    why = "empty capacitors look like a short: the board opens and everything is dark"
    limit_from = "from memory"
    source = "boards trip at about ten times the rated charge an hour"
    levels = ("note",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.kind != "converter" or device.model.name not in _WITH_CAPACITORS:
                continue
            feed = inquiry.feed(inquiry.supply_terminal(device.name))
            if feed is None:
                continue
            store = inquiry.device(feed.giver.rpartition(".")[0])
            if store.model.name not in LITHIUM:
                continue
            volts, ohm = inquiry.store_source(feed.giver)
            amps = volts / (ohm + feed.ohm)
            limit = TRIP_C * rated_amps(store)
            over = amps > limit
            message = (
                f"connecting `{device.name}` may draw {amps:.0f} A for an instant; the board of "
                f"`{store.name}` trips near {limit:.0f} A"
            )
            yield Reading(device.name, "note" if over else None, message, amps, limit, "A")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a resistor that fills its capacitors first, or connect it before the others")


_WITH_CAPACITORS = ("inverter", "step_up", "voltage_booster", "usb_c_supply")
