"""Texts of stations with very many devices."""

from __future__ import annotations

SITE = """station "Big" {
    place 64.2 N, 27.7 E, 140 m
    starts 2026-06-19 08:00 +03:00
    lasts 72 h
    sky clear
    air 8 degC .. 19 degC
}
storage pack : lfp { capacity 400 Ah }
block strip : strip { ways 60; rating 200 A }
cable pack -> strip.in { length 0.4 m; wire 35 mm2; fuse 150 A at pack }
"""
LEAD = "{ length 1.2 m; wire 1.5 mm2; fuse 5 A at strip }"


def plain_text(devices: int) -> str:
    """So many devices and about as many cables, each on a line of its own."""
    lines = [SITE]
    for each in range(devices - 2):
        lines.append(f"load lamp{each} : steady {{ power 5 W; priority 3; mass 0.2 kg }}\n")
        lines.append(f"cable strip.{each % 60 + 1} -> lamp{each} {LEAD}\n")
    return "".join(lines)


def kit_text(devices: int) -> str:
    """The same number in kits of a strip and nine lamps."""
    assembly = f"""assembly table(rating) {{
    block strip : strip {{ ways 9; rating rating }}
    load lamp[9] : steady {{ power 5 W; priority 3; mass 0.2 kg }}
    cable strip.[1..9] -> lamp[1..9] {LEAD}
    expose in -> strip.in
}}
"""
    kits = max(devices // 10, 1)
    return (
        SITE
        + assembly
        + f"kit table[{kits}] : table {{ rating 30 A }}\n"
        + f"cable strip.1 -> table[1..{kits}].in {{ length 3 m; wire 6 mm2; fuse 30 A at strip }}\n"
    )
