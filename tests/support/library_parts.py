"""The part files that come along, and stations that use each of their parts once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from support.building import SITE, station_of

from copperpath.report.part_sheets import PartSheet, part_sheets
from copperpath.station import Device
from copperpath_grammar import parse

KINDS = {
    "photovoltaic": "source",
    "supply": "source",
    "generator": "source",
    "alternator": "source",
    "wind_turbine": "source",
    "fuel_cell": "source",
    "hand_crank": "source",
    "lfp": "storage",
    "lead_acid": "storage",
    "transceiver": "load",
    "steady": "load",
    "heater": "load",
    "mains_load": "load",
    "usb_device": "load",
    "modem": "load",
    "laptop": "load",
    "network_node": "load",
    "led_lamp": "load",
    "dock": "load",
    "strip": "block",
    "fuse": "block",
    "disconnect": "block",
    "diode": "block",
    "ideal_diode": "block",
    "accessory_socket": "block",
    "isolator": "block",
    "shunt_meter": "block",
    "breaker": "block",
    "switch": "block",
}
"""Others are converters."""
OWN = {
    "photovoltaic": "mount flat",
    "transceiver": "transmitting 10 %",
    "wind_turbine": "wind 5 m/s",
    "modem": "transmitting 10 %",
    "dock": "out 08:00 to 18:00",
}
"""What the station must say beside the part."""

PACK = "storage pack_{0} : lfp {{ capacity 50 Ah }}\n"
OTHER = "storage other_{0} : lfp {{ capacity 50 Ah }}\n"
BULB = "load bulb_{0} : steady {{ power 5 W }}\n"
LAPTOP = "load laptop_{0} : steady {{ power 10 W; works 8 V .. 21 V }}\n"
LINK = "load link_{0} : steady {{ power 5 W; works 18 V .. 30 V }}\n"
PANEL = "source sun_{0} : photovoltaic {{ power 50 W; vmp 18 V; voc 22 V; isc 3 A; mount flat }}\n"
MPPT = "converter mppt_{0} : mppt_charger {{ output_limit 30 A; max_input 200 V }}\n"
MAINS = "source mains_{0} : generator {{ rating 1 kW }}\n"
PLUG = "converter plug_{0} : mains_charger {{ output_limit 10 A }}\n"
INVERTER = "converter inverter_{0} : inverter {{ rating 100 W }}\n"
USB = "converter usb_{0} : step_down {{ output 5 V; output_limit 3 A; input 9 V .. 30 V }}\n"
IRON = "load iron_{0} : mains_load {{ power 50 W }}\n"
CAR = "source car_{0} : supply {{ voltage 14 V; limit 50 A }}\n"

FROM_SUN = ((PANEL, PACK), ("sun_{0} -> {0}.panel", "{0}.battery -> pack_{0}"))
FED = ((PACK,), ("pack_{0} -> {0}",))
THROUGH = ((PACK, BULB), ("pack_{0} -> {0}.line", "{0}.load -> bulb_{0}"))
IN_OUT = ((PACK, BULB), ("pack_{0} -> {0}.in", "{0}.out -> bulb_{0}"))
TO_TWO = (
    (CAR, PACK, OTHER),
    ("car_{0} -> {0}.in", "{0}.first -> pack_{0}", "{0}.second -> other_{0}"),
)
CHARGES = ((PACK,), ("{0} -> pack_{0}",))
STORE = ((BULB,), ("{0} -> bulb_{0}",))

WIRING: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "photovoltaic": ((MPPT, PACK), ("{0} -> mppt_{0}.panel", "mppt_{0}.battery -> pack_{0}")),
    "supply": ((BULB,), ("{0} -> bulb_{0}",)),
    "alternator": CHARGES,
    "wind_turbine": CHARGES,
    "fuel_cell": CHARGES,
    "hand_crank": CHARGES,
    "generator": (
        (PLUG, PACK),
        (
            "{0}.output -> plug_{0}.mains",
            "plug_{0}.battery -> pack_{0}",
            "{0}.sense -> pack_{0}",
        ),
    ),
    "mppt_charger": FROM_SUN,
    "pwm_charger": FROM_SUN,
    "dc_charger": ((CAR, PACK), ("car_{0} -> {0}.vehicle", "{0}.battery -> pack_{0}")),
    "mains_charger": (
        (MAINS, PACK),
        (
            "mains_{0}.output -> {0}.mains",
            "{0}.battery -> pack_{0}",
            "mains_{0}.sense -> pack_{0}",
        ),
    ),
    "inverter": ((PACK, IRON), ("pack_{0} -> {0}.battery", "{0}.mains -> iron_{0}")),
    "step_down": IN_OUT,
    "step_up": ((PACK, LINK), ("pack_{0} -> {0}.in", "{0}.out -> link_{0}")),
    "voltage_booster": IN_OUT,
    "usb_c_supply": ((PACK, LAPTOP), ("pack_{0} -> {0}.in", "{0}.out -> laptop_{0}")),
    "lfp": STORE,
    "lead_acid": STORE,
    "strip": ((PACK, BULB), ("pack_{0} -> {0}.in", "{0}.1 -> bulb_{0}")),
    "fuse": THROUGH,
    "disconnect": THROUGH,
    "diode": IN_OUT,
    "ideal_diode": IN_OUT,
    "accessory_socket": THROUGH,
    "isolator": TO_TWO,
    "shunt_meter": THROUGH,
    "breaker": THROUGH,
    "switch": THROUGH,
    "transceiver": FED,
    "steady": FED,
    "heater": FED,
    "modem": FED,
    "laptop": FED,
    "network_node": FED,
    "led_lamp": FED,
    "dock": FED,
    "usb_device": ((PACK, USB), ("pack_{0} -> usb_{0}.in", "usb_{0}.out -> {0}")),
    "mains_load": (
        (PACK, INVERTER),
        ("pack_{0} -> inverter_{0}.battery", "inverter_{0}.mains -> {0}"),
    ),
}
"""By model: what a part of it needs beside it, and the cables."""


@dataclass(frozen=True, slots=True)
class LibraryPart:
    """A part of a file: as written and as built (values in SI)."""

    file: str
    sheet: PartSheet
    device: Device

    def __str__(self) -> str:
        return self.sheet.name


def library_texts() -> dict[str, str]:
    """The text of every part file by its name."""
    places = files("copperpath_plugins.library").iterdir()
    kept = sorted((each for each in places if each.name.endswith(".station")), key=lambda p: p.name)
    return {each.name.removesuffix(".station"): each.read_text(encoding="utf-8") for each in kept}


def station_using(text: str) -> str:
    """A station with the text of a part file pasted in and every part wired up once."""
    parsed = parse(text)
    assert parsed.file is not None
    pieces = [SITE, text]
    for sheet in part_sheets(parsed.file, parsed.source):
        name, device = sheet.name, f"my_{sheet.name}"
        kind = KINDS.get(sheet.model, "converter")
        pieces.append(f"{kind} {device} : {name} {{ {OWN.get(sheet.model, '')} }}\n")
        needed, cables = WIRING[sheet.model]
        pieces += [each.format(device) for each in needed]
        pieces += [
            f"cable {each.format(device)} {{ length 1 m; wire 2.5 mm2 }}\n" for each in cables
        ]
    return "".join(pieces)


@lru_cache(maxsize=1)
def library_parts() -> tuple[LibraryPart, ...]:
    """Every part of every file, built."""
    found: list[LibraryPart] = []
    for file, text in library_texts().items():
        devices = {each.name: each for each in station_of(station_using(text)).devices}
        parsed = parse(text)
        assert parsed.file is not None
        found += [
            LibraryPart(file, sheet, devices[f"my_{sheet.name}"])
            for sheet in part_sheets(parsed.file, parsed.source)
        ]
    return tuple(found)


def parts_of(*models: str) -> list[LibraryPart]:
    """The parts of some models, in the order of their files."""
    return [part for part in library_parts() if part.sheet.model in models]
