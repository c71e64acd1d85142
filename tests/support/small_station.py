"""A battery and a lamp as station text, with the few words changed that a test is about.

The battery is kept at 25 degC and gives all of its 2 Ah, so that hours can be worked by hand.
"""

from __future__ import annotations

from support.runs import station_from_text

from copperpath.pipeline import run
from copperpath.record.record import Record

SITE = """station "Small" {{
    place 64.2 N, 27.7 E, 140 m
    starts 2026-06-19 08:00 +03:00
    lasts {lasts}
    sky {sky}
    air 8 degC .. 19 degC
    {more}
}}
"""
PACK = """storage pack : lfp {{
    capacity {capacity}; temperature 25 degC; available 100 %; resistance 20 mohm; {pack}
}}
"""
LAMP = "load lamp : steady { current 0.5 A; works 9 V .. 15 V }\n"
LAMP_LEAD = "cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
PANEL = """source panel : photovoltaic {
    power 60 W; vmp 17.6 V; voc 21.4 V; isc 3.75 A; mount flat
}
converter regulator : mppt_charger { output_limit 5 A; max_input 30 V }
cable panel -> regulator.panel { length 3 m; wire 2.5 mm2 }
cable regulator.battery -> pack { length 0.3 m; wire 2.5 mm2; fuse 10 A at pack }
"""


def small_text(
    rest: str = LAMP + LAMP_LEAD,
    *,
    lasts: str = "24 h",
    sky: str = "clear",
    more: str = "",
    capacity: str = "2 Ah",
    pack: str = "",
) -> str:
    """The text of a battery with whatever hangs on it."""
    site = SITE.format(lasts=lasts, sky=sky, more=more)
    return site + PACK.format(capacity=capacity, pack=pack) + rest


def run_text(text: str, step_s: float = 60.0) -> Record:
    """The record of a text without mistakes."""
    return run(station_from_text(text), step_s=step_s)
