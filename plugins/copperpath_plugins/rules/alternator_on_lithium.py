"""An alternator wired straight to a lithium battery."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.stores import LITHIUM, stores_at


class AlternatorOnLithium(Rule):
    """A lithium battery joined by wires alone to an alternator."""

    interface = 1
    name = "alternator-on-lithium"
    summary = "between an alternator and a lithium battery stands a charger that limits the current"
    why = "the battery holds it at full output until it burns; its board opening is a load dump"
    limit_from = "common practice"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.model.name != "alternator":
                continue
            stores = stores_at(inquiry, inquiry.supply_terminal(device.name))
            lithium = [store.name for store in stores if store.model.name in LITHIUM]
            if not lithium:
                yield Reading(device.name, None)
                continue
            message = f"`{device.name}` is wired straight to `{lithium[0]}`, a lithium battery"
            yield Reading(device.name, "warn", message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a vehicle charger (`dc_charger`) with a limited current between them")
