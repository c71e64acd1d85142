"""The entries that do not come from a model: those of cables, of the station, of every device."""

from __future__ import annotations

from copperpath.build import cables, site
from copperpath.build.contacts import CONTACT_OHM
from copperpath.editor.forms import Form, explained
from copperpath.report.declared import COMMON


def _told(name: str, need: str, meaning: str, example: str) -> str:
    return f"**{name}** ({need}): {meaning}\n\nWritten `{example}`."


def _cable(name: str, meaning: str, example: str) -> str:
    if name in cables.REQUIRED:
        meaning, example = cables.REQUIRED[name]
        return _told(name, "required", f"{meaning}.", example)
    return _told(name, "optional", meaning, example)


def _station(name: str) -> str:
    meaning, example = site.REQUIRED[name]
    return _told(name, "required", f"{meaning}.", example)


COMMON_HELP = {words.name: explained(words) for words in COMMON}

COMMON_FORMS: dict[str, Form] = {
    "mass": Form(COMMON_HELP["mass"], "1.1 kg", measured={"": "mass"}, unit="kg"),
    "priority": Form(COMMON_HELP["priority"], "1", measured={"": "number"}),
    "note": Form(COMMON_HELP["note"], '"on loan"', named=False),
}
"""What every device takes."""

CABLE_FORMS: dict[str, Form] = {
    "length": Form(_cable("length", "", ""), "1.5 m", measured={"": "length"}, unit="m"),
    "wire": Form(_cable("wire", "", ""), "1.5 mm2", first=("AWG",), measured={"": "wire"}),
    "solid": Form(_cable("solid", "A solid conductor instead of a flexible one.", "solid")),
    "fuse": Form(
        _cable(
            "fuse",
            "A fuse, the end it sits at, and perhaps how far from there along the wire.",
            cables.FUSE_EXAMPLE,
        ),
        "10 A at",
        after={"at": ("start", "end")},
        joins=("at", "within"),
        measured={"": "current", "within": "length"},
        unit="A",
    ),
    "joint": Form(
        _cable(
            "joint", "How many mated pairs of connectors, and of which kind.", cables.JOINT_EXAMPLE
        ),
        "2 of genderless",
        after={"of": tuple(CONTACT_OHM)},
        joins=("of",),
        measured={"": "number"},
    ),
    "conductor_temperature": Form(
        _cable(
            "conductor_temperature",
            "How warm the copper is; 20 degC if not given.",
            "conductor_temperature 40 degC",
        ),
        "40 degC",
        measured={"": "temperature"},
        unit="degC",
    ),
    "mass": Form(
        _cable("mass", "Worked out from the copper if not given.", "mass 0.1 kg"),
        "0.1 kg",
        measured={"": "mass"},
        unit="kg",
    ),
    "note": Form(_cable("note", "A remark for people.", 'note "red"'), '"red"', named=False),
}

STATION_FORMS: dict[str, Form] = {
    "place": Form(
        _station("place"),
        "64.22 N, 27.73 E, 140 m",
        measured={"": "latitude", ",": "longitude", ",,": "length"},
    ),
    "starts": Form(_station("starts"), "2026-06-19 08:00 +03:00", named=False),
    "lasts": Form(_station("lasts"), "72 h", measured={"": "time"}, unit="h"),
    "sky": Form(
        _station("sky"),
        "30 % of clear",
        first=("clear",),
        after={"of": ("clear",)},
        joins=("of", "on", "from", "to"),
        measured={"": "share"},
    ),
    "air": Form(
        _station("air"),
        "8 degC .. 19 degC",
        joins=("..",),
        measured={"": "temperature", "..": "temperature"},
        unit="degC",
    ),
    "ground_reflects": Form(
        _told(
            "ground_reflects",
            "optional",
            "The share of light that the ground throws back; 20 % if not given.",
            "ground_reflects 20 %",
        ),
        "20 %",
        measured={"": "share"},
    ),
    "repeats": Form(
        _told("repeats", "optional", "The stated span comes again and again.", "repeats")
    ),
    "note": Form(_told("note", "optional", "A remark for people.", 'note "plan B"'), named=False),
}
"""Entries of the station's own body, and the settings of a case."""

REPEATED = frozenset(("sky", "joint"))
"""Entries of which there may be several."""

LEAD_FORMS: dict[str, Form] = {
    "isolated": Form(_told("isolated", "optional", "No current can pass along it.", "isolated")),
}
"""What a data lead takes."""
