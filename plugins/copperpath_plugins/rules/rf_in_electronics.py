"""Transmitter power in long leads."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.panel_volts import is_panel
from copperpath_plugins.rules.questions import asked_together

QUESTION = "leads-choked"
LONG_M = 3.0
RADIO_A = 2.5
"""10 W of output take about 2.5 A: common practice, no source."""


class RfInElectronics(Rule):
    """A question of the checklist for panel leads of 3 m and more beside a radio of more than 10 W;
    `confirm "leads-choked"` answers it, in the station or in each panel."""

    interface = 1
    name = "rf-in-electronics"
    summary = "long panel leads near a transmitter are choked at the controller"
    why = "controllers at relay sites have been destroyed, and meters misread while keyed"
    limit_from = "common practice"
    source = "3 m and 10 W are our own choice"
    levels = ("note",)
    asks = QUESTION

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if not any(
            each.model.keying is not None
            and float(each.values.get("keyed", each.values.get("transmit", 0.0))) > RADIO_A
            for each in inquiry.devices
        ):
            return
        long = [
            panel.name
            for panel in inquiry.devices
            if is_panel(panel)
            and any(
                cable.length_m is None or cable.length_m >= LONG_M
                for cable in inquiry.cables_at(panel.name)
            )
        ]
        message = "are the leads of {names} choked at the controller against the transmitter?"
        yield from asked_together(inquiry, QUESTION, "note", long, message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy(
            "a choke at the controller; trust volts, not amps, while keyed; then "
            f'`confirm "{QUESTION}"`'
        )
