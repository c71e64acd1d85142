"""Drop on the way from what feeds a load, round trip, at the worst instant."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, LevelWord, Reading, Remedy, Rule
from copperpath_plugins.rules.wire_growth import grown_wires

RADIO = 0.03
OTHER = 0.10


class LineDrop(Rule):
    """3 % for radios, 10 % for everything else."""

    interface = 1
    name = "line-drop"
    summary = "the way from the battery to a radio loses 3 % of the volts at most, to others 10 %"
    why = "what the wire loses warms the wire, and is missing when the battery is low"
    limit_from = "published"
    source = "ABYC E-11, ISO 13297: 3 % for critical circuits, 10 % for others"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.kind != "load" or device.model.spare:
                continue
            terminal = inquiry.supply_terminal(device.name)
            feed = inquiry.feed(terminal)
            volts = inquiry.low.volts
            if feed is None or terminal not in volts or volts.get(feed.giver, 0.0) <= 0.0:
                continue
            lost = volts[feed.giver] - volts[terminal]
            share = max(lost, 0.0) / volts[feed.giver]
            limit = RADIO if device.model.keying is not None else OTHER
            high = share > limit
            message = (
                f"{lost:.2f} V or {100.0 * share:.1f} % are lost from `{feed.giver}` to "
                f"`{device.name}` at the worst instant; {100.0 * limit:.0f} % are allowed"
            )
            level: LevelWord | None = None if not high else "fail" if share > OTHER else "warn"
            yield Reading(device.name, level, message, 100.0 * share, 100.0 * limit, "%")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        terminal = inquiry.supply_terminal(reading.subject)
        feed = inquiry.feed(terminal)
        if feed is None:
            return None
        limit = (reading.limit or 0.0) / 100.0

        def enough(tried: Inquiry) -> bool:
            volts = tried.low.volts
            given = volts.get(feed.giver, 0.0)
            return given > 0.0 and given - volts.get(terminal, 0.0) <= limit * given

        words = "shorter wires, or fewer joints and blocks on the way"
        return grown_wires(inquiry, feed.cables, enough) or Remedy(words)
