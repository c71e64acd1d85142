"""The text of a station of forty devices: two batteries, panels, converters and several radios."""

from __future__ import annotations

HEAD = """station "Forty" {
    place  61.5 N, 24.1 E, 120 m
    starts 2026-06-19 08:00 +03:00
    lasts  72 h
    sky    clear
    air    4 degC .. 21 degC
}

block bus : strip { ways 6; rating 200 A }
"""
PANELS = """source    panel{n} : photovoltaic {{
    power 100 W; vmp 18.2 V; voc 22.4 V; isc 5.9 A; mount flat
}}
converter charge{n} : mppt_charger {{ output_limit 10 A; max_input 60 V }}
cable panel{n} -> charge{n}.panel {{ length 6 m; wire 4 mm2 }}
"""
BATTERY = """storage   pack{n} : lfp {{ cells 4; capacity 60 Ah }}
block     strip{n} : strip {{ ways 14; rating 60 A }}
cable charge{n}.battery -> pack{n} {{
    length 0.5 m; wire 6 mm2; fuse 20 A at pack{n} within 100 mm
}}
cable pack{n} -> bus.{n} {{
    length 0.8 m; wire 16 mm2; fuse 80 A at pack{n} within 100 mm; fuse_kind bolt_down
}}
cable bus.{way} -> strip{n}.in {{ length 1 m; wire 10 mm2; fuse 40 A at bus; fuse_kind blade }}
"""
RADIO = """load      rig{n} : transceiver {{
    receive 0.5 A; transmit 9 A; transmitting 10 %; mode ssb; works 11 V .. 15 V; priority 1
}}
cable strip{strip}.{way} -> rig{n} {{ length 2 m; wire 4 mm2; fuse 15 A at strip{strip} }}
"""
LAMP = """load      lamp{n} : steady {{ power 6 W; on 18:00 to 23:00; priority 4 }}
cable strip{strip}.{way} -> lamp{n} {{ length 4 m; wire 1.5 mm2; fuse 3 A at strip{strip} }}
"""
OUTLET = """converter five{n} : step_down {{ output 5 V; output_limit 3 A; input 9 V .. 30 V }}
load      phone{n} : usb_device {{ needs 12 Wh/day; limit 7.5 W }}
cable strip{strip}.{way} -> five{n}.in {{ length 0.5 m; wire 0.75 mm2; fuse 3 A at strip{strip} }}
cable five{n}.out -> phone{n} {{ length 1 m; wire 24 AWG }}
"""


def forty_devices() -> str:
    """1 bus, 4 of panels and chargers, 4 of batteries and strips, 8 radios, 13 lamps, 5 outlets
    with a phone each."""
    parts = [HEAD]
    for n in (1, 2):
        parts += [PANELS.format(n=n), BATTERY.format(n=n, way=n + 2)]
    ways = {1: iter(range(1, 15)), 2: iter(range(1, 15))}
    for n in range(1, 9):
        parts.append(RADIO.format(n=n, strip=1 + n % 2, way=next(ways[1 + n % 2])))
    for n in range(1, 14):
        parts.append(LAMP.format(n=n, strip=1 + n % 2, way=next(ways[1 + n % 2])))
    for n in range(1, 6):
        parts.append(OUTLET.format(n=n, strip=1 + n % 2, way=next(ways[1 + n % 2])))
    return "\n".join(parts)
