"""Small stations that together use all of the language, for tests that spoil texts.

Small, so that many spoilt copies are read in a second. Each is one or more files by their names;
the first is the one that is opened, and includes the others.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

SITE = """\
station "Small" {
    place  64.22 N, 27.73 E, 140 m  # height too
    starts 2026-06-19 08:00 +03:00
    lasts  72 h
    sky    clear
    air    8 degC .. 19 degC
}
"""

FACTS = """\
station "Facts" {
    place  64.22 N, 27.73 E, 140 m
    starts 2026-06-19 08:00 +03:00; lasts 72 h; repeats
    sky    clear
    sky    30 % of clear on 2026-06-20
    sky    7 % of clear from 2026-06-21 to 2026-06-22
    sky    2.1 kWh/m2/day on 60 deg, south from may to june
    air    46 degF .. 19 °C
    air    6 degC .. 14 degC in july, august, june; air_spread 4 K; seed 7
    record_low -34 degC; horizon 12 deg at east, 4 deg at 180 deg
    rime 1 % in june; snow 2 %
    ground_reflects 20 %
}
part my_lfp : lfp { cells 4; capacity 10.5 .. 12 Ah; temperature air + 2 K .. air + 8 K }
let run = 2 * (3.5 m - 4 ft) / 1.5
source  blanket : supply { voltage 14.2 V; limit 8 A }
storage pack : my_lfp { charge 90 %; reserve 10 %; mass 1.6 kg; note "on ""loan"" now" }
block   strip : strip { ways 4; rating 40 A }
load    rig : transceiver {
    receive 0.30 .. 0.40 A; transmit 2.1 A; mode ssb; works 9 V .. 15 V; priority 1
    transmitting 10 .. 25 % from 06:00 to 22:00 on 2026-06-20, otherwise 2 %
}
load    pump : steady { power 3 W; runs on surplus; off 23:00 to 05:30 }
load    torch : steady {
    power 2 W
    on 06:00 to 12:00 from 2026-06-19 to 2026-06-20, 23:00 to 01:00 on 2026-06-20
}
cable blanket -> pack { length run; wire 4 mm²; fuse 10 A at blanket; joint 2 of genderless }
cable pack -> strip.in { length run / 7; wire 6 mm2; fuse 40 A at start within 100 mm }
cable strip.1 -> rig { length 1 m; wire 16 AWG; solid; fuse 5 A at strip; fuse_kind blade }
cable strip.2 -> pump { length 1 m; wire AWG 14; bundled 3; sheathed; insulation 105 degC }
cable strip.3 -> torch { wire 1 mm2; copper_clad; conductor_temperature 40 degC }
bond rig to chassis
data rig -> torch { isolated; kind usb; length 2 m }
require pump powered throughout
require rig powered for 48 h
require pack.charge >= -(-20 %)
require mass <= 6 kg
"""

KITS = (
    """\
include "shared/tables.station"
"""
    + SITE
    + """\
storage pack : lfp { capacity 12 Ah }
block strip : strip { ways many + 3; rating 40 A }
load lamp[many] : steady { power 3 W }
kit table[2] : table { rating 15 A }
kit spare : pair { size 5 A; apart lead / 2 }
cable pack -> strip.in { length lead; wire 6 mm2; fuse 40 A at pack }
cable strip.[1..many] -> lamp[1..many] { length lead; wire 16 AWG; fuse 3 A at lamp }
cable strip.[many + 1..many + 2] -> table[1..2] { length 3 m; wire 4 mm2; fuse 15 A at strip }
cable strip.6 -> spare.in { length 3 m; wire 4 mm2 }
never together spare.rig[1..2], table[1..2].rig
bond table[1..2].rig to mast
data lamp[1..2] -> table[1..2].rig { isolated }
require table[2].desk.rig[1].voltage >= 10.5 V
require lamp[1..many] powered throughout
"""
)

TABLES = """\
let many = 3
let lead = 0.75 m
assembly pair(size, apart = 1 m) {
    load  rig[2] : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 % }
    block strip  : strip { ways 2; rating size }
    cable strip.[1..2] -> rig[1..2] { length apart; wire 1.5 mm2; fuse 5 A at rig }
    expose in -> strip.in
}
assembly table(rating, run = 2 m) {
    let   half  = run / 2
    block strip : strip { ways 2; rating rating }
    kit   desk  : pair { size rating / 2; apart half }
    load  rig   : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 % }
    cable strip.1 -> rig { length run; wire 1.5 mm2; fuse 5 A at strip }
    cable strip.2 -> desk { length half; wire 1.5 mm2 }
    never together desk.rig[1..2]
    bond desk.rig[1..2] to chassis
    data rig -> desk.rig[1]
    require desk.rig[1..2].voltage >= 10.5 V
    expose in -> strip.in
}
"""

CASES = (
    SITE
    + """\
include "box.station"
let lead = 2 m
part cell : lfp { cells 4; capacity 12 Ah }
storage pack : cell { charge 90 % }
block strip : strip { ways 4; rating 40 A }
load lamp[2] : steady { power 3 W }
kit table : box { watts 5 W }
cable pack -> strip.in { length lead; wire 6 mm2; fuse 40 A at pack }
cable strip.[1..2] -> lamp[1..2] { length lead; wire 16 AWG }
cable strip.3 -> table { length lead; wire 4 mm2; fuse 15 A at strip }
require lamp[1..2] powered throughout in every case
require table.lamp.voltage >= 10.5 V in case "overcast", "a guest"
case "overcast" { sky 30 % of clear; lasts 48 h; without lamp[2] }
case "a guest" {
    let lead = 3 m
    part cell : lfp { cells 4; capacity 20 Ah }
    change lamp[1..2] { power 5 .. 6 W; off 22:00 to 06:00 }
    change table { watts 6 W }
    change cable strip.3 -> table { wire 2.5 mm2 }
    without cable strip.2 -> lamp[2]
    load rig[2] : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 % }
    kit more : box { watts 1 W }
    cable strip.4 -> rig[1..2] { length lead; wire 1 mm2; fuse 3 A at rig }
    cable strip.2 -> more { length lead; wire 2.5 mm2 }
    never together rig[1..2]
}
"""
)

BOX = """\
assembly box(watts, run = lead) {
    block strip : strip { ways 1; rating 5 A }
    cable strip.1 -> lamp { length run; wire 1 mm2 }
    load lamp : steady { power watts; note "inside" }
    expose in -> strip.in
    require lamp powered throughout in every case
}
"""

LIBRARY = (
    SITE
    + """\
include library "panels"
source blanket : blanket_200w { mount aimed every 3 h; derate 80 .. 90 % }
converter charger : mppt_charger { output_limit 30 A; max_input 50 V }
storage pack : lfp { capacity 50 Ah }
load warmer : heater { power 12 W; below 2 degC }
cable blanket -> charger.panel { length 5 m; wire 4 mm2 }
cable charger.battery -> pack { length 0.5 m; wire 4 mm2; fuse 40 A at pack }
cable pack -> warmer { length 0.5 m; wire 4 mm2; fuse 5 A at pack }
require holds
"""
)

STATIONS: Mapping[str, Mapping[str, str]] = {
    "facts": {"facts.station": FACTS},
    "kits": {"kits.station": KITS, "shared/tables.station": TABLES},
    "cases": {"cases.station": CASES, "box.station": BOX},
    "library": {"library.station": LIBRARY},
}


def lay_down(files: Mapping[str, str], folder: Path) -> Path:
    """Write the files of a station into a folder; gives the one to open."""
    for name, text in files.items():
        place = folder / name
        place.parent.mkdir(exist_ok=True)
        place.write_text(text, encoding="utf-8")
    return folder / next(iter(files))
