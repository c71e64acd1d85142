"""Words that the trade uses for several things, and what to write instead.

Looked at only where a word is not an entry of the model at hand.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_SHARE = (
    "say which: `on 06:00 to 23:00` for its hours, `transmitting 15 %` for the share of these in "
    "which it sends, `mode ssb` or `mode_factor 0.45` for how hard the mode works while sending"
)
_GROUND = (
    "say which: the negative return is part of every cable here; a bond to chassis, to earth or "
    "to a counterpoise is not power wiring and is not written in this file"
)
_AWG = "the size of a wire is written `wire 14 AWG` or `wire 2.5 mm2`"
_WATTS = (
    "say which: transmit power on the air is not what the radio takes; write its current from "
    "the supply, `transmit 2.1 A`, at the power setting that is used"
)
_SUN = (
    "say where the sun comes from in the `station` block: `sky clear`, `sky 30 % of clear`, a file "
    "of measured light, or a table's mean, in which an hour of full sun is 1 kWh/m2: "
    "`sky 2.1 kWh/m2/day on level in december`"
)

ADVICE = {
    "duty": _SHARE,
    "duty_cycle": _SHARE,
    "ground": _GROUND,
    "earth": _GROUND,
    "gauge": _AWG,
    "awg": _AWG,
    "size": (
        "say which: a wire's size is `wire 2.5 mm2`, a battery's `capacity 12 Ah`, a panel's "
        "`power 28 W`"
    ),
    "watts": _WATTS,
    "rf_power": _WATTS,
    "sun_hours": _SUN,
    "peak_sun": _SUN,
    "runtime": (
        "say which: how long the run is, `lasts 72 h` in the `station` block, or what is asked "
        "of it, `require rig powered for 48 h`"
    ),
    "peak": "say which: `transmit` is the current fully keyed, `limit` the most a device takes",
    "full": "say which: `charge 100 %` at the start, or `absorb 14.4 V` at the controller",
    "isolated": "say which: separate coils, or a switch that is open; neither is an entry here",
}

OTHER_WORDS = {
    **dict.fromkeys(("until", "ends", "end", "stops", "duration"), "lasts"),
    **dict.fromkeys(("tilt", "angle", "slope", "azimuth", "facing", "direction"), "mount"),
    **dict.fromkeys(("location", "position", "coordinates", "latitude", "longitude"), "place"),
    **dict.fromkeys(("weather", "clouds", "overcast"), "sky"),
    "albedo": "ground_reflects",
    "skyline": "horizon",
    **dict.fromkeys(("lowest", "coldest", "minimum"), "record_low"),
    "temperature": "air",
    "rx": "receive",
    "tx": "transmit",
    "soc": "charge",
    "hours": "on",
    "weight": "mass",
    **dict.fromkeys(("cross_section", "area", "diameter", "thickness"), "wire"),
}
"""Words for which the language has one word of its own."""

HOW = {
    "lasts": "say how long it runs: `lasts 72 h`",
    "mount": "tilt and direction stand together: `mount 35 deg, south`",
    "place": "write it like `place 64.22 N, 27.73 E, 140 m`",
    "sky": "write it like `sky clear` or `sky 30 % of clear`",
    "ground_reflects": "write the share of light that it throws back: `ground_reflects 65 %`",
    "record_low": "write the coldest air on record: `record_low -34 degC`",
    "horizon": "write heights at directions: `horizon 12 deg at east, 4 deg at south`",
    "air": "write the coolest and the warmest of the day: `air 8 degC .. 19 degC`",
    "receive": "write its current from the supply: `receive 0.35 A`",
    "transmit": "write its current from the supply, fully keyed: `transmit 2.1 A`",
    "charge": "write how full it is at the start: `charge 90 %`",
    "on": "write it like `on 06:00 to 12:00, 14:00 to 23:00`",
    "mass": "write it like `mass 1.1 kg`",
    "wire": "write the area of its copper or its gauge: `wire 2.5 mm2`, `wire 14 AWG`",
}


def word_for(word: str, known: Sequence[str]) -> str:
    """The entry that stands for a word of the trade among those known here, or ""."""
    entry = OTHER_WORDS.get(word.lower(), "")
    return entry if entry in known else ""


def words_in(advice: str) -> tuple[str, ...]:
    """The entries that an advice proposes."""
    return tuple(re.findall(r"`(\w+)", advice))


def advice_on(word: str) -> str:
    """What to write instead of an ambiguous word, or ""."""
    return ADVICE.get(word.lower(), "")
