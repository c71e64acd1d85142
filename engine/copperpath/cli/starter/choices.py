"""What a starter file can be made of: parts of the shipped library, with what a first wiring needs.

Fuses are the next standard size above 1.25 times the part's largest current; wires are the next
size that such a fuse protects with some margin (common practice, no source). They begin the work,
`copperpath check` and the person who builds go on with it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Choice:
    """A part of the library: its name there, which library, what it is, and how it is wired.

    `lines` are entries that the part leaves to the station, each with a remark. `feed` is "strip"
    for what hangs on 12 V and "usb" for what hangs on 5 V.
    """

    part: str
    library: str
    words: str
    wire: str = ""
    fuse: str = ""
    lines: tuple[tuple[str, str], ...] = ()
    feed: str = "strip"


SHARE = "the share of its hours on in which it sends"
HOURS = "when it is on; leave the line out for always"

RADIOS = (
    Choice(
        "hf_10w",
        "radios",
        "HF, 10 W, for a backpack",
        "1.5 mm2",
        "4 A",
        (("transmitting 15 %", SHARE), ("mode ssb", "how hard the mode works meanwhile")),
    ),
    Choice(
        "hf_100w",
        "radios",
        "HF, 100 W",
        "6 mm2",
        "30 A",
        (("transmitting 10 %", SHARE), ("mode ssb", "how hard the mode works meanwhile")),
    ),
    Choice(
        "fm_5w",
        "radios",
        "VHF or UHF FM, 5 W",
        "1.5 mm2",
        "3 A",
        (("transmitting 10 %", SHARE),),
    ),
    Choice(
        "fm_25w",
        "radios",
        "VHF or UHF FM, 25 W",
        "2.5 mm2",
        "10 A",
        (("transmitting 10 %", SHARE),),
    ),
    Choice(
        "fm_50w",
        "radios",
        "VHF or UHF FM, 50 W",
        "4 mm2",
        "15 A",
        (("transmitting 10 %", SHARE),),
    ),
    Choice(
        "packet_25w",
        "radios",
        "packet, 25 W",
        "2.5 mm2",
        "10 A",
        (("transmitting 8 %", SHARE),),
    ),
    Choice(
        "repeater_10w",
        "radios",
        "repeater, 10 W",
        "1.5 mm2",
        "5 A",
        (("transmitting 6 %", SHARE),),
    ),
)
LOADS = (
    Choice(
        "laptop_30w",
        "loads",
        "laptop on 12 V, 30 W",
        "1.5 mm2",
        "5 A",
        (("on 08:00 to 20:00", HOURS),),
    ),
    Choice("router_6w", "loads", "network router, 6 W", "1 mm2", "3 A"),
    Choice("lamp_6w", "loads", "lamp, 6 W", "1 mm2", "3 A", (("on 19:00 to 23:00", HOURS),)),
    Choice("phone_5v", "loads", "telephone, charged from 5 V", "0.75 mm2", "", (), "usb"),
    Choice(
        "tablet_5v",
        "loads",
        "tablet, on 5 V",
        "0.75 mm2",
        "",
        (("on 17:00 to 20:00", HOURS),),
        "usb",
    ),
)
BATTERIES = (
    Choice("lfp_12ah", "batteries", "lithium iron phosphate, 12 Ah", "2.5 mm2", "15 A"),
    Choice("lfp_20ah", "batteries", "lithium iron phosphate, 20 Ah", "2.5 mm2", "20 A"),
    Choice("lfp_50ah", "batteries", "lithium iron phosphate, 50 Ah", "6 mm2", "40 A"),
    Choice("lfp_100ah", "batteries", "lithium iron phosphate, 100 Ah", "16 mm2", "60 A"),
    Choice("agm_18ah", "batteries", "lead-acid AGM, 18 Ah", "2.5 mm2", "20 A"),
    Choice("agm_100ah", "batteries", "lead-acid AGM, 100 Ah", "16 mm2", "60 A"),
)
PANELS = (
    Choice("blanket_28w", "panels", "folding blanket, 28 W", "1.5 mm2"),
    Choice("blanket_60w", "panels", "folding blanket, 60 W", "2.5 mm2"),
    Choice("panel_50w", "panels", "rigid panel, 50 W", "2.5 mm2"),
    Choice("panel_100w", "panels", "rigid panel, 100 W", "4 mm2"),
    Choice("panel_200w", "panels", "rigid panel, 200 W", "4 mm2"),
)
GROUPS = {"radio": RADIOS, "load": LOADS, "battery": BATTERIES, "panel": PANELS}


def choice(group: str, part: str) -> Choice:
    """The choice of that name.

    Raises
    ------
    KeyError
        If there is none.
    """
    for each in GROUPS[group]:
        if each.part == part:
            return each
    raise KeyError(part)


def controller_for(panel: str, battery: str) -> tuple[str, str, str]:
    """Controller, its wire and fuse, for a panel of so many watts."""
    watts = int("".join(letter for letter in panel.split("_")[-1] if letter.isdigit()))
    size, wire, fuse = ("5a", "2.5 mm2", "10 A")
    if watts > 60:
        size, wire, fuse = ("10a", "4 mm2", "15 A")
    if watts > 120:
        size, wire, fuse = ("20a", "6 mm2", "30 A")
    lead = battery.startswith("agm")
    if lead and size == "5a":
        size, wire, fuse = ("10a", "4 mm2", "15 A")
    return f"mppt_{size}{'_agm' if lead else ''}", wire, fuse
