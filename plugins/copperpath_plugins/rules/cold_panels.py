"""Open-circuit volts of panels on the coldest morning against what a controller stands."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.panel_volts import cold_open_volts, controllers, panels_at
from copperpath_plugins.rules.terminals import terminals_of


class ColdPanels(Rule):
    """Sum of the open-circuit voltages, each times 1 + coefficient (coldest air - 25 °C)."""

    interface = 1
    name = "cold-panels"
    summary = "panels with nothing connected stay below a controller's limit on the coldest morning"
    why = "cold panels give more volts: the first cold bright morning destroys the controller"
    limit_from = "published"
    source = "NEC 690.7; the limit is the controller's own"
    levels = ("danger",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device, terminal in controllers(inquiry):
            panels = panels_at(inquiry, terminal)
            found = [(*cold_open_volts(each, inquiry.air_low_k), each) for each in panels]
            volts, how, panel = max(found, key=lambda each: each[0])
            limits = [t.limit for name, t in terminals_of(device) if name == terminal]
            limit = float(device.values[limits[0]])
            over = volts > limit
            celsius = inquiry.air_low_k - 273.15
            message = (
                f"`{panel.name}` gives {volts:.1f} V open at {celsius:.0f} degC ({how}); "
                f"`{device.name}` stands {limit:.0f} V"
            )
            yield Reading(
                device.name,
                "danger" if over else None,
                message,
                volts,
                limit,
                "V",
                terminal,
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        for panel in panels_at(inquiry, reading.place):
            series = float(panel.values["series"])
            parallel = float(panel.values["parallel"])
            if series > 1.0 and (series * parallel) % 1.0 == 0.0:
                edits = (
                    SetValue(panel.name, "series", 1.0),
                    SetValue(panel.name, "parallel", series * parallel),
                )
                return Remedy(f"the panels of `{panel.name}` side by side, if that wakes it", edits)
        return Remedy("a controller for a higher voltage")
