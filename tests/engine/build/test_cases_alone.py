"""A case of a file is the station that somebody would have written for it alone: random ones."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

import pytest
from engine.build.test_written_out import HEAD, MAIN, seen
from support.building import SITE, station_of

PAIR = """assembly pair(watts, many, apart = 1 m) {
    block strip : strip { ways many; rating 9 A }
    load lamp[many] : steady { power watts / many }
    cable strip.[1..many] -> lamp[1..many] { length apart; wire 2.5 mm2; fuse 3 A at lamp }
    require lamp[1..many] powered throughout
    expose in -> strip.in
}
"""


@dataclass(frozen=True)
class Radios:
    """Several radios that hang on ways of the strip, and all that is said of them."""

    name: str
    first: int
    count: int
    receive: float
    length: float
    fuse: float = 3.0
    at: str = "strip"

    def lines(self) -> list[str]:
        many, receive, length = (f"{word}_{self.name}" for word in ("many", "receive", "length"))
        return [
            f"let {many} = {self.count}",
            f"let {receive} = {self.receive} A",
            f"let {length} = {self.length} m",
            f"load {self.name}[{many}] : transceiver {{ receive {receive}; transmit 2 A; "
            "transmitting 10 % }",
            f"cable {self.ways} -> {self.all} {{ length {length}; wire 2.5 mm2; "
            f"fuse {self.fuse} A at {self.at} }}",
            f"require {self.all} powered throughout",
            f"bond {self.all} to chassis",
            *([f"never together {self.all}"] if self.count > 1 else []),
        ]

    @property
    def ways(self) -> str:
        return f"strip.[{self.first}..{self.first} + many_{self.name} - 1]"

    @property
    def all(self) -> str:
        return f"{self.name}[1..many_{self.name}]"


@dataclass(frozen=True)
class Kits:
    """Several kits of one assembly."""

    name: str
    first: int
    count: int
    watts: float
    many: int
    apart: float

    def lines(self) -> list[str]:
        last = self.first + self.count - 1
        return [
            f"kit {self.name}[{self.count}] : pair "
            f"{{ watts {self.watts} W; many {self.many}; apart {self.apart} m }}",
            f"cable strip.[{self.first}..{last}] -> {self.name}[1..{self.count}] "
            "{ length 2 m; wire 2.5 mm2; fuse 3 A at strip }",
            f"bond {self.name}[1..{self.count}].lamp[1] to mast",
        ]


Group = Radios | Kits
Changed = tuple[list[str], Sequence[Group]]
"""The lines of the case, and the groups that it leaves or makes."""


def change_radios(one: Radios, dice: random.Random) -> Changed:
    match dice.choice(("value", "length", "change", "cable", "fuse", "without")):
        case "value":
            receive = dice.choice((0.2, 0.5))
            return [f"let receive_{one.name} = {receive} A"], [replace(one, receive=receive)]
        case "length":
            return [f"let length_{one.name} = 4 m"], [replace(one, length=4.0)]
        case "change":
            return [f"change {one.all} {{ receive 0.7 A }}"], [replace(one, receive=0.7)]
        case "cable":
            ends = dice.choice((f"{one.ways} -> {one.all}", f"{one.all} -> {one.ways}"))
            return [f"change cable {ends} {{ length 7 m }}"], [replace(one, length=7.0)]
        case "fuse":
            ends, at, place = dice.choice(
                (
                    (f"{one.ways} -> {one.all}", "start", "strip"),
                    (f"{one.all} -> {one.ways}", "start", one.name),
                    (f"{one.all} -> {one.ways}", "strip", "strip"),
                    (f"{one.ways} -> {one.all}", one.name, one.name),
                )
            )
            line = f"change cable {ends} {{ fuse 2 A at {at} }}"
            return [line], [replace(one, fuse=2.0, at=place)]
    return [f"without {one.all}"], []


def change_kits(one: Kits, dice: random.Random) -> Changed:
    everyone = f"{one.name}[1..{one.count}]"
    match dice.choice(("watts", "many", "both", "lamps", "without")):
        case "watts":
            return [f"change {everyone} {{ watts 8 W }}"], [replace(one, watts=8.0)]
        case "many":
            many = dice.randint(1, 4)
            return [f"change {everyone} {{ many {many} }}"], [replace(one, many=many)]
        case "both":
            lines = [f"change {everyone} {{ many 3; watts 6 W; apart 2 m }}"]
            return lines, [replace(one, many=3, watts=6.0, apart=2.0)]
        case "lamps":
            lines = [f"change {everyone}.lamp[1..{one.many}] {{ power 1 W }}"]
            return lines, [replace(one, watts=float(one.many))]
    return [f"without {everyone}"], []


def text_of(groups: Sequence[Group], *, head: str = HEAD, in_cases: str = "") -> str:
    """A station of these groups; `in_cases` stands behind each requirement."""
    lines = [PAIR.rstrip(), *(line for group in groups for line in group.lines())]
    text = head + MAIN + "\n".join(lines) + "\n"
    return text.replace(" powered throughout", f" powered throughout{in_cases}")


@pytest.mark.parametrize("seed", range(40))
def test_a_case_is_the_station_written_alone(seed: int) -> None:
    dice = random.Random(seed)
    groups: list[Group] = [
        Radios("some", 1, dice.randint(1, 4), 0.3, 1.5),
        Radios("more", 11, dice.randint(1, 3), 0.4, 2.5),
        Kits("table", 21, dice.randint(1, 3), 4.0, dice.randint(1, 3), 0.5),
        Kits("desk", 31, 2, 5.0, 2, 1.5),
    ]
    text, alone = text_of(groups, in_cases=" in every case"), []
    for number in range(3):
        lines: list[str] = []
        left: list[Group] = []
        for group in groups:
            own: Sequence[Group] = [group]
            if dice.random() < 0.6:
                one, own = (
                    change_radios(group, dice)
                    if isinstance(group, Radios)
                    else change_kits(group, dice)
                )
                lines += one
            left += own
        if dice.random() < 0.3 or not lines:
            guest = Radios("guest", 41, 2, 0.25, 1.0)
            left.append(guest)
            # Bonds and requirements are no lines of a case.
            lines += [x for x in guest.lines() if not x.startswith(("require", "bond"))]
        head = HEAD
        if dice.random() < 0.3:
            lines += ["sky 30 % of clear", "lasts 48 h"]
            dark = SITE.replace("sky clear", "sky 30 % of clear").replace("72 h", "48 h")
            head = HEAD.replace(SITE, dark)
        dice.shuffle(lines)
        body = "".join(f"    {line}\n" for line in lines)
        text += f'case "number {number}" {{\n{body}}}\n'
        by_itself = text_of(left, head=head)
        by_itself = by_itself.replace("require guest[1..many_guest] powered throughout\n", "")
        alone.append(by_itself.replace("bond guest[1..many_guest] to chassis\n", ""))
    station = station_of(text)
    assert seen(station, flat=True) == seen(station_of(text_of(groups)), flat=True)
    for case, one in zip(station.cases, alone, strict=True):
        assert seen(case.station, flat=True) == seen(station_of(one), flat=True), case.changes
