"""The faulty stations of `tests/gallery/`: what their first lines expect, and how they are varied.

A faulty station begins with remarks that the tests read:

    # fault: low volts when keyed; expect fail keyed-volts rig
    # remedy: a word that the remedy holds
    # also: warn line-drop rig        (another finding that belongs to it)

Beside it lies `NAME.mended.station`, the same station without this fault. What the file accepts
with a reason counts as nothing found.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from support.building import station_of

from copperpath.finding import Finding
from copperpath.inquiry.inquiry import StationInquiry
from copperpath.inquiry.judge import judge
from copperpath.inquiry.rule_catalogue import installed_rules
from copperpath.plugin_api.edits import Edit, SetLength, SetValue
from copperpath.plugin_api.rule import Rule
from copperpath.station import Station

FOLDER = Path(__file__).parent.parent / "gallery"
MENDED = ".mended.station"
FIRST = re.compile(r"# fault: (?P<fault>.+); expect (?P<level>\w+) (?P<rule>[a-z-]+) (?P<at>.+)\n")
VARIED = ("transmit", "current", "power", "resistance")
"""Figures of loads and stores that are scaled; those that a file does not give stay."""


@dataclass(frozen=True, slots=True)
class Case:
    """A faulty station: where it lies and what its first lines expect."""

    path: Path
    fault: str
    rule: str
    expected: str
    also: tuple[str, ...]
    word: str

    @property
    def name(self) -> str:
        return f"{self.path.parent.name}/{self.path.stem}"

    @property
    def text(self) -> str:
        return self.path.read_text(encoding="utf-8")

    @property
    def mended(self) -> Path:
        return self.path.with_name(self.path.stem + MENDED)


def cases() -> list[Case]:
    """All faulty stations, by folder and name."""
    files = sorted(FOLDER.glob("*/*.station"))
    return [_read(path) for path in files if not path.name.endswith(MENDED)]


def _read(path: Path) -> Case:
    text = path.read_text(encoding="utf-8")
    first = FIRST.match(text)
    assert first is not None, f"{path}: the first line does not say what is expected"
    word = re.search(r"^# remedy: (.+)$", text, re.MULTILINE)
    assert word is not None, f"{path}: no word of the remedy"
    return Case(
        path,
        first["fault"],
        first["rule"],
        f"{first['level']} {first['rule']} {first['at']}",
        tuple(re.findall(r"^# also: (.+)$", text, re.MULTILINE)),
        word[1],
    )


@cache
def rules() -> dict[str, type[Rule]]:
    """The installed rules by name."""
    found = installed_rules()
    assert found.problems == ()
    return {rule.name: rule for rule in found.rules}


@cache
def found_in(path: Path) -> tuple[Finding, ...]:
    """What all rules find in a file, but for what it accepts."""
    return found_in_station(station_of(path.read_text(encoding="utf-8")))


def found_in_station(station: Station) -> tuple[Finding, ...]:
    """What all rules find in a station, but for what it accepts."""
    found = judge(station, tuple(rules().values()))
    return tuple(each for each in found if not each.accepted)


def told(finding: Finding) -> str:
    """A finding as the first lines write it."""
    return f"{finding.level.name.lower()} {finding.rule} {finding.subject}"


def varied(station: Station, seed: int) -> StationInquiry:
    """The station with its lengths, currents, powers and resistances up to a third off; as it
    stands for seed 0."""
    inquiry = StationInquiry(station)
    if seed == 0:
        return inquiry
    draw = random.Random(seed)
    return inquiry.edited(*_edits(station, draw))


def _edits(station: Station, draw: random.Random) -> Iterator[Edit]:
    for cable in station.cables:
        if cable.length_m is not None:
            yield SetLength(cable.name, cable.length_m * draw.uniform(0.67, 1.33))
    for device in station.devices:
        if device.kind not in ("load", "storage"):
            continue
        for name in VARIED:
            value = device.values.get(name)
            if name in device.given and isinstance(value, float):
                yield SetValue(device.name, name, value * draw.uniform(0.67, 1.33))
