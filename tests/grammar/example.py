"""One station file that uses most of the language."""

EXAMPLE = """\
station "Heron bog, one operator" {
    place   64.22 N, 27.73 E, 140 m
    starts  2026-06-19 08:00 +03:00
    lasts   72 h
    sky     clear
    sky     30 % of clear on 2026-06-20
    sky     7 % of clear from 2026-06-21 to 2026-06-22
    air     8 degC .. 19 degC              # coolest before dawn
}

part blanket28 : photovoltaic {            # a datasheet, written once
    power 28 W; vmp 17.6 V; voc 21.4 V; isc 1.75 A
    voc_slope -0.30 %/K
    mass  0.62 kg
}
let run = 2 * 3.5 m

source    blanket   : blanket28    { mount 60 deg, south }
storage   pack      : lfp          { cells 4; capacity 12 Ah; temperature air + 6 K }
block     strip     : strip        { ways 4; rating 30 A }
load      rig       : transceiver  {
    transmitting 20 % from 06:00 to 22:00, otherwise 2 %
    on       06:00 to 12:00, 14:00 to 23:00
    works    9 V .. 15 V
}
load      phone     : usb_device   { needs 12 Wh/day; off 23:00 to 05:30 }

cable pack    -> strip.in { length run; wire 4 mm²; fuse 15 A at pack within 100 mm }
cable strip.1 -> rig      { length 1.2 m; wire 14 AWG; solid; joint 2 of genderless }
cable strip.2 -> phone    { length (run - 1 m) / 4; wire AWG 24 }

include library "panels"
include "parts/radios.station"

assembly radio_box(rating, lead = 2 m) {
    block    strip  : strip { ways 2; rating rating }
    load     rig[2] : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 % }
    cable    strip.[1..2] -> rig[1..2] { length lead; wire 14 AWG }
    expose   in -> strip.in
}

kit  table[3] : radio_box { rating 20 A }
kit  spare    : radio_box { rating 10 A; lead 1 m }
load warmer   : heater    { resistance 12 ohm; runs on surplus }

cable strip.[3..4] -> table[1..2].in { length 2 m; wire 10 AWG }

never together rig, table[1].rig[1..2]
bond rig to chassis
data phone -> rig { isolated }

require rig powered throughout
require rig powered for 48 h
require pack.charge >= 20 % in every case
require holds in case "overcast", "one blanket lost"

case "overcast" { sky 30 % of clear }
case "one blanket lost" {
    let run = 5 m
    without blanket, cable strip.2 -> phone
    change  rig { transmitting 30 % }
    change  cable pack -> strip.in { wire 6 mm2 }
    load    spare_lamp : steady { power 3 W }
    cable   strip.2 -> spare_lamp { length 1 m; wire 1 mm2 }
}
"""
