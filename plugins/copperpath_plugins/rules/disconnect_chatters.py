"""A low-voltage disconnect that opens when radios are keyed."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, Reading, Remedy, Rule, SetValue

GAP_V = 0.8
DELAY_S = 10.0
BELOW_V = 0.2
"""How far below the sag a set-point is put: our own choice."""


class DisconnectChatters(Rule):
    """Gap between off and on against the sag of keying, off inside that sag, and its delay."""

    interface = 1
    name = "disconnect-chatters"
    summary = "a disconnect's gap is above the sag of keying and 0.8 V, its delay at least 10 s"
    why = "keying pulls the volts below the set-point, it opens, the volts recover, it closes"
    limit_from = "common practice"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.model.name == "disconnect":
                yield from _of(inquiry, device)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        device = inquiry.device(reading.subject)
        limit = reading.limit or 0.0
        if reading.place == "gap":
            on = float(device.values["off"]) + limit
            return Remedy(f"`on` at {on:.2f} V", (SetValue(device.name, "on", on),))
        if reading.place == "delay":
            words = f"`off_delay` of {DELAY_S:.0f} s"
            return Remedy(words, (SetValue(device.name, "off_delay", DELAY_S),))
        off = limit - BELOW_V
        return Remedy(f"`off` at {off:.2f} V", (SetValue(device.name, "off", off),))


def _of(inquiry: Inquiry, device: DeviceView) -> Iterator[Reading]:
    line = f"{device.name}.line"
    keyed, silent = inquiry.low.volts.get(line), inquiry.listening.volts.get(line)
    if keyed is None or silent is None:
        return
    off, on = float(device.values["off"]), float(device.values["on"])
    sag = max(silent - keyed, 0.0)
    gap, wanted = on - off, max(GAP_V, sag)
    small = gap < wanted - 1e-9
    message = (
        f"`{device.name}` closes {gap:.2f} V above where it opens; keying pulls its line down by "
        f"{sag:.2f} V, and {wanted:.2f} V of gap are wanted"
    )
    yield Reading(device.name, "warn" if small else None, message, gap, wanted, "V", "gap")
    inside = keyed < off < silent
    message = (
        f"`{device.name}` opens at {off:.2f} V, but keying alone pulls its line from "
        f"{silent:.2f} V to {keyed:.2f} V"
    )
    yield Reading(device.name, "warn" if inside else None, message, off, keyed, "V", "off")
    delay = float(device.values["off_delay"])
    quick = delay < DELAY_S - 1e-9
    message = (
        f"`{device.name}` opens after {delay:.1f} s; {DELAY_S:.0f} s are wanted, which outlast the "
        "sag of most transmissions"
    )
    yield Reading(
        device.name,
        "warn" if quick else None,
        message,
        delay,
        DELAY_S,
        "s",
        "delay",
    )
