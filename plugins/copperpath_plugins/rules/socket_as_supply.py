"""An accessory socket that feeds a transmitter."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.fuse_sizes import SLACK_A

MOST_A = 8.0
RADIO_A = 2.5
"""10 W of output take about 2.5 A: common practice, no source."""


class SocketAsSupply(Rule):
    """What flows through an accessory socket, and which radios hang on it."""

    interface = 1
    name = "socket-as-supply"
    summary = "an accessory socket feeds no more than 8 A and no radio above 10 W"
    why = "its spring contact loosens, its wiring is thin: the radio resets, the plug melts"
    limit_from = "common practice"
    levels = ("fail",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for socket in inquiry.devices:
            if socket.model.name != "accessory_socket":
                continue
            cables = inquiry.cables_at(socket.name)
            amps = max((abs(inquiry.low.amps.get(each.name, 0.0)) for each in cables), default=0.0)
            over = amps > MOST_A + SLACK_A
            message = f"{amps:.1f} A flow through `{socket.name}`, a socket good for {MOST_A:.0f} A"
            yield Reading(socket.name, "fail" if over else None, message, amps, MOST_A, "A")
            for device in inquiry.devices:
                if device.model.keying is None:
                    continue
                feed = inquiry.feed(inquiry.supply_terminal(device.name))
                taken = float(device.values.get("keyed", device.values.get("transmit", 0.0)))
                if feed is not None and socket.name in feed.blocks and taken > RADIO_A:
                    message = (
                        f"`{device.name}` takes {taken:.1f} A when keyed and hangs on "
                        f"`{socket.name}`, an accessory socket, which is for radios of up to "
                        f"{RADIO_A} A (10 W)"
                    )
                    yield Reading(device.name, "fail", message, taken, RADIO_A, "A", socket.name)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("a fused feed of its own from the battery")
