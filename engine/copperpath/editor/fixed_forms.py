"""The entries that do not come from a model: those of cables, of the station, of every device.

What each means is said here in a line; which of them there are, the builder decides.
"""

from __future__ import annotations

from dataclasses import replace

from copperpath.build import cables, site
from copperpath.build.accepting import rule_names
from copperpath.build.contacts import CONTACT_OHM
from copperpath.build.months import MONTHS
from copperpath.build.parameters import FACINGS
from copperpath.editor.forms import Form, explained
from copperpath.editor.unit_choice import Measured
from copperpath.report.declared import COMMON


def _form(
    entry: str,
    meaning: str,
    measured: Measured | None = None,
    *,
    unit: str = "",
    first: tuple[str, ...] = (),
    named: bool = True,
) -> tuple[str, Form]:
    """An entry of one value, written like this: `length 1.5 m`."""
    name, _, example = entry.partition(" ")
    told = f"**{name}**: {meaning}\n\nWritten `{entry}`."
    values = {"": measured} if measured is not None else {}
    return name, Form(told, example, first=first, measured=values, unit=unit, named=named)


_NOTE = _form('note "on loan"', "A remark for people.", named=False)
_RULES = tuple(f'"{name}"' for name in rule_names())
_ACCEPTING = (
    _form(
        'accept "low-power", "at half power"',
        "A finding of a wiring rule that may stand, and why.",
        first=_RULES,
        named=False,
    ),
    _form(
        'confirm "lightning", "antennas down"',
        "A question of the checklist, and its answer.",
        named=False,
    ),
)

COMMON_HELP = {words.name: explained(words) for words in COMMON}

COMMON_FORMS: dict[str, Form] = {
    "mass": Form(COMMON_HELP["mass"], "1.1 kg", measured={"": "mass"}, unit="kg"),
    "priority": Form(COMMON_HELP["priority"], "1", measured={"": "number"}),
    "note": Form(COMMON_HELP["note"], '"on loan"', named=False),
    "accept": Form(
        COMMON_HELP["accept"], '"low-power", "at half power"', first=_RULES, named=False
    ),
    "confirm": Form(COMMON_HELP["confirm"], '"lightning", "antennas down"', named=False),
}
"""What every device takes."""

_FUSE_EXAMPLE = "fuse 10 A at pack within 100 mm"
_FUSE = Form(
    "**fuse**: A fuse, the end it sits at, and perhaps how far from there along the wire.\n\n"
    f"Written `{_FUSE_EXAMPLE}`.",
    "10 A at",
    after={"at": ("start", "end")},
    joins=("at", "within"),
    measured={"": "current", "within": "length"},
    unit="A",
)
_JOINT = Form(
    "**joint**: How many mated pairs of connectors are on the way, and of which kind.\n\n"
    "Written `joint 2 of genderless`.",
    "2 of genderless",
    after={"of": tuple(CONTACT_OHM)},
    joins=("of",),
    measured={"": "number"},
)
_CABLE: dict[str, Form] = dict(
    (
        _form("length 1.5 m", "How long it is, one way; out and back is reckoned.", "length"),
        _form("wire 1.5 mm2", "The size of its copper.", "wire", first=("AWG",)),
        _form("solid", "A solid conductor instead of a flexible one."),
        ("fuse", _FUSE),
        ("joint", _JOINT),
        _form("conductor_temperature 40 degC", "How warm the copper is.", "temperature"),
        _form("copper_clad", "Copper-clad aluminium, which has more resistance."),
        _form(
            "fuse_poles both",
            "Whether a fuse sits in both conductors or in the positive one alone.",
            first=("positive", "both"),
            named=False,
        ),
        _form(
            "fuse_kind blade",
            "The kind of its fuses.",
            first=("blade", "bolt_down", "class_t", "glass", "ceramic", "breaker", "other"),
            named=False,
        ),
        _form("fuse_interrupts 1 kA", "The most current that its fuses can break.", "current"),
        _form("fuse_voltage 32 V", "The highest voltage that its fuses can break.", "voltage"),
        _form("insulation 105 degC", "How warm a conductor its insulation stands.", "temperature"),
        _form("bundled 4", "How many cables lie together, this one counted.", "number"),
        _form("sheathed", "It lies in a conduit or a sheath."),
        _form("mass 0.1 kg", "Worked out from the copper if not given.", "mass"),
        _NOTE,
        *_ACCEPTING,
    )
)
CABLE_FORMS = {name: _CABLE.get(name, Form("")) for name in cables.ENTRIES}
"""What a cable takes."""

_PLACE = Form(
    "**place**: Where it stands: latitude, longitude and, if it is known, the height.\n\n"
    "Written `place 64.22 N, 27.73 E, 140 m`.",
    "64.22 N, 27.73 E, 140 m",
    measured={"": "latitude", ",": "longitude", ",,": "length"},
)
_IN_MONTHS = {"in": MONTHS, "from": MONTHS, "to": MONTHS}
_SKY = Form(
    "**sky**: How much sun comes through, on all days, on some or in some months, a month's mean "
    "light, or a file of measured light or of weather.\n\n"
    "Written `sky clear`, `sky 30 % of clear on 2026-06-20`, `sky 40 % of clear in january`, "
    '`sky 2.1 kWh/m2/day on level in december`, or `sky "sun.csv"`.',
    "30 % of clear",
    first=("clear",),
    after={"of": ("clear",), "on": ("level",), **_IN_MONTHS},
    joins=("of", "on", "from", "to", "in"),
    measured={"": "share"},
)
_AIR = Form(
    "**air**: How warm the air is, coolest to warmest of the day, if need be by month; or a file "
    "of weather.\n\n"
    "Written `air 8 degC .. 19 degC` or `air -8 degC .. -3 degC in december`.",
    "8 degC .. 19 degC",
    after=_IN_MONTHS,
    joins=("..", "in", "from", "to"),
    measured={"": "temperature", "..": "temperature"},
)
_HORIZON = Form(
    "**horizon**: How high hills and trees stand around the panels, each height at its direction."
    "\n\nWritten `horizon 12 deg at east, 4 deg at south, 9 deg at 250 deg`.",
    "12 deg at east",
    after={"at": tuple(FACINGS)},
    joins=("at",),
    measured={"": "angle", "at": "angle", ",": "angle"},
)


def _share(entry: str, meaning: str) -> tuple[str, Form]:
    """A share of the light, if need be by month."""
    name, form = _form(entry, f"{meaning} If need be by month.", "share")
    return name, replace(form, after=_IN_MONTHS, joins=("in", "from", "to"))


_STATION = dict(
    (
        ("place", _PLACE),
        _form(
            "starts 2026-06-19 08:00 +03:00",
            "When it begins, with the clock's offset from UTC.",
            named=False,
        ),
        _form("lasts 72 h", "How long it runs.", "time"),
        ("sky", _SKY),
        ("air", _AIR),
        _form(
            "air_spread 4 K",
            "How much days are warmer or colder than usual.",
            "temperature_difference",
        ),
        _form("random_days", "Each day's light is drawn at random about its mean, and its cover."),
        _form("seed 7", "From which chance begins; the same seed gives the same days.", "number"),
        _form("record_low -34 degC", "The coldest air on record at the place.", "temperature"),
        ("horizon", _HORIZON),
        _share("rime 30 % in december", "The share of the light that rime on the panels takes."),
        _share("snow 15 % in december", "The share of the light that snow on the panels takes."),
        _form(
            "cover_spell 5 days",
            "How long rime or snow stays in the mean, where days are drawn at random.",
            "time",
        ),
        _share("ground_reflects 20 %", "The share of light that the ground throws back."),
        _form("repeats", "The stated span comes again and again."),
        _NOTE,
        *_ACCEPTING,
    )
)
STATION_FORMS = {name: _STATION.get(name, Form("")) for name in site.ENTRIES}
"""Entries of the station's own body, and the settings of a case."""

REPEATED = frozenset((*site.REPEATABLE, *cables.REPEATABLE))
"""Entries of which there may be several."""

LEAD_FORMS = dict(
    (
        _form(
            "kind usb",
            "What sort of lead it is.",
            first=("usb", "serial", "audio", "ethernet", "coax"),
            named=False,
        ),
        _form("isolated", "No current can pass along it."),
        _form("length 1.5 m", "How long it is.", "length"),
        _NOTE,
    )
)
"""What a data lead takes."""
