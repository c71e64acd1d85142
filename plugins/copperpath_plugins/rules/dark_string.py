"""One dark panel that takes a whole string along."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.panel_volts import is_panel


class DarkString(Rule):
    """Panels one after the other with nothing beside them."""

    interface = 1
    name = "dark-string"
    summary = "snow, rime or shade on one panel leaves the others working"
    why = "without bypass diodes one dark panel stops its string; with them its volts are missing"
    limit_from = "common practice"
    levels = ("note",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for panel in inquiry.devices:
            if not is_panel(panel):
                continue
            alone = float(panel.values["series"]) > 1.0 and float(panel.values["parallel"]) < 2.0
            message = (
                f"`{panel.name}` is one string of {float(panel.values['series']):.0f}: one dark "
                "panel takes its volts away, or all of it if it has no bypass diode"
            )
            yield Reading(panel.name, "note" if alone else None, message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        panel = inquiry.device(reading.subject)
        series = float(panel.values["series"])
        edits = (
            SetValue(panel.name, "series", 1.0),
            SetValue(panel.name, "parallel", series * float(panel.values["parallel"])),
        )
        return Remedy(
            "the panels side by side if the controller starts with one, or steeper", edits
        )
