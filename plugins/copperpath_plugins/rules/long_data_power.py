"""Power over a long data cable."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, LevelWord, Reading, Remedy, Rule, SetWire
from copperpath_plugins.rules.line_cannot_carry import held_power, most_carried

LONG_M = 10.0
THIN_M2 = 0.35e-6
SHARE = 0.5


class LongDataPower(Rule):
    """Power asked over a long thin cable against what the line can carry."""

    interface = 1
    name = "long-data-power"
    summary = "a load at the end of a long thin cable asks half of what the line carries at most"
    why = "as it starts it asks half as much again, the voltage collapses, and it never comes up"
    limit_from = "common practice"
    source = "V²/(4 R); half of it for what a start asks"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            asked = held_power(device)
            terminal = inquiry.supply_terminal(device.name)
            feed = inquiry.feed(terminal) if asked is not None else None
            if asked is None or feed is None:
                continue
            cables = [inquiry.cable(name) for name in feed.cables]
            thin = [
                each
                for each in cables
                if each.area_m2 is not None
                and each.area_m2 <= THIN_M2
                and (each.length_m or 0.0) >= LONG_M
            ]
            if not thin:
                continue
            most = SHARE * most_carried(inquiry, terminal)
            over = asked > most
            message = (
                f"`{device.name}` asks {asked:.1f} W over `{thin[0].name}`, {thin[0].length_m:g} m "
                f"of {thin[0].wire}, which should carry no more than {most:.1f} W"
            )
            level: LevelWord | None = None
            if over:
                opened = device.name in inquiry.low.opened
                level = "fail" if opened or asked > most / SHARE else "warn"
            yield Reading(device.name, level, message, asked, most, "W", thin[0].name)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        terminal = inquiry.supply_terminal(reading.subject)
        asked = reading.value or 0.0
        sizes = inquiry.larger_wires(inquiry.cable(reading.place))
        several = inquiry.in_sizes(reading.place, sizes)
        for size, tried in zip(sizes, several, strict=True):
            if asked <= SHARE * most_carried(tried, terminal):
                words = f"`{reading.place}` in {size} (or more pairs), or twice the volts"
                return Remedy(words, (SetWire(reading.place, size),))
        return Remedy("twice the volts, or another pair of wires")
