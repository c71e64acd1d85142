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
    "cable",
    "let",
    "require",
)
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
}
