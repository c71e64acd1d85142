"""The words that statements begin with, and how each statement is written."""

from __future__ import annotations

# In the order in which they usually stand in a file.
STATEMENT_WORDS = (
    "station",
    "part",
    "source",
    "converter",
    "storage",
    "block",
    "load",
    "kit",
    "cable",
    "let",
    "require",
    "never",
    "bond",
    "data",
    "include",
    "assembly",
    "case",
)
INSIDE_ONLY = {"expose": "an assembly", "change": "a case", "without": "a case"}
EXAMPLES = {
    "station": 'station "Heron bog" { ... }',
    "part": "part panel28 : photovoltaic { ... }",
    "source": "source panel : photovoltaic { ... }",
    "converter": "converter regulator : mppt_charger { ... }",
    "storage": "storage pack : lfp { ... }",
    "block": "block strip : strip { ... }",
    "load": "load rig : transceiver { ... }",
    "cable": "cable pack -> strip.in { ... }",
    "let": "let run = 3.5 m",
    "require": "require rig powered throughout",
    "kit": "kit table : radio_table { ... }",
    "never": "never together rig, relay",
    "bond": "bond rig to chassis",
    "data": "data laptop -> rig",
    "include": 'include "parts/radios.station"',
    "assembly": "assembly radio_table(rating) { ... }",
    "case": 'case "overcast" { ... }',
    "expose": "expose in -> strip.in",
    "change": "change rig { transmitting 30 % }",
    "without": "without right_blanket",
}
