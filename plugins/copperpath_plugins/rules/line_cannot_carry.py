"""The most power that a line can carry into a load that holds its power."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, LevelWord, Reading, Remedy, Rule
from copperpath_plugins.rules.least_volts import dead_line
from copperpath_plugins.rules.wire_growth import grown_wires

SPARE = 1.25


class LineCannotCarry(Rule):
    """A line of resistance R from a supply of V volts carries V²/(4 R) watts at the most.

    A load that holds its power needs V² >= 4 P R; of the two voltages that solve it only the
    higher one is stable. Maximum power transfer, any textbook of circuits.
    """

    interface = 1
    name = "line-cannot-carry"
    summary = "a load that holds its power asks no more than its line can carry"
    why = "above that the voltage collapses: the load drops out and tries again and again"
    limit_from = "published"
    source = "maximum power transfer, V²/(4 R); a quarter to spare is common practice"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        corner = inquiry.low
        for device in inquiry.devices:
            asked = held_power(device)
            terminal = inquiry.supply_terminal(device.name)
            feed = inquiry.feed(terminal) if asked is not None else None
            if asked is None or feed is None or terminal not in corner.volts:
                continue
            if dead_line(inquiry, terminal):
                continue
            most = most_carried(inquiry, terminal)
            opened = device.name in corner.opened
            thin = asked * SPARE > most
            level: LevelWord | None = "fail" if opened or asked > most else "warn" if thin else None
            message = (
                f"the line to `{device.name}` carries {most:.1f} W at the most and it asks "
                f"{asked:.1f} W"
            )
            if opened and asked <= most:
                message += ", which other loads on the same line leave no room for"
            yield Reading(device.name, level, message, asked, most / SPARE, "W")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        terminal = inquiry.supply_terminal(reading.subject)
        feed = inquiry.feed(terminal)
        asked = reading.value or 0.0

        def enough(tried: Inquiry) -> bool:
            up = reading.subject not in tried.low.opened
            return up and SPARE * asked <= most_carried(tried, terminal)

        found = None if feed is None else grown_wires(inquiry, feed.cables, enough)
        return found or Remedy("a higher voltage on the line, or a shorter one")


def held_power(device: DeviceView) -> float | None:
    """Watts that a load asks whatever its volts; None for others."""
    if device.kind != "load" or device.model.spare or "rated_at" in device.values:
        return None
    if device.model.keying is not None:
        return None
    watts = float(device.values.get("watts", device.values.get("power", float("nan"))))
    return watts if watts > 0.0 else None


def most_carried(inquiry: Inquiry, terminal: str) -> float:
    """What the way to a terminal carries at the most, with everything else on [W]."""
    feed = inquiry.feed(terminal)
    if feed is None:
        return 0.0
    start = inquiry.low.volts.get(feed.giver, 0.0)
    ohm = feed.ohm
    if inquiry.device(feed.giver.rpartition(".")[0]).kind == "storage":
        ohm += inquiry.store_source(feed.giver)[1]
    return start**2 / (4.0 * max(ohm, 1e-6))
