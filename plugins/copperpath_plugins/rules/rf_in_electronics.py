"""Transmitter power in long leads."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule

QUESTION = "leads-choked"


class RfInElectronics(Rule):
    """A question of the checklist; `confirm "leads-choked"` answers it."""

    interface = 1
    name = "rf-in-electronics"
    summary = "long panel leads near a transmitter are choked at the controller"
    why = "controllers at relay sites have been destroyed, and meters misread while keyed"
    limit_from = "common practice"
    source = ""
    levels = ("note",)
    asks = QUESTION

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if any(
            each.model.keying is not None and float(each.values.get("transmit", 0.0)) > 2.5
            for each in inquiry.devices
        ) and any("voc" in each.values for each in inquiry.devices):
            if inquiry.confirmed(QUESTION):
                yield Reading("station", None)
                return
            message = "are long panel leads choked at the controller against the transmitter?"
            yield Reading("station", "note", message, open=True)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a choke at the controller; trust volts, not amps, while keyed")
