"""Arrays, kits and cases mean what is written out by hand: random stations, both ways.

The left text uses brackets, assemblies, named values and cases; the right one is put together
beside it, line by line, with every device and cable as a line of its own. Nothing of the engine's
expansion is used for the right one.
"""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field
from typing import Any

import pytest
from support.building import SITE, station_of

from copperpath.station import Station

TRIES = 40
HEAD = (
    SITE + "storage pack : lfp { capacity 12 Ah }\nblock strip : strip { ways 60; rating 30 A }\n"
)
MAIN = "cable pack -> strip.in { length 1 m; wire 6 mm2; fuse 15 A at pack }\n"


def flat_name(name: str) -> str:
    """`table[2].lamp[1]` as a name that a single device can have: `table_2__lamp_1`."""
    return name.replace("[", "_").replace("]", "").replace(".", "__")


def seen(station: Station, *, flat: bool) -> dict[str, Any]:
    """All that a station says, in no order; names as written out (`flat`) or to be made so."""

    def named(name: str) -> str:
        return name if flat else flat_name(name)

    def end(ref: Any) -> str:
        return f"{named(ref.device)}.{ref.terminal}"

    devices = {
        named(d.name): (d.kind, d.model.__name__, repr(sorted(d.values.items())), d.mass_kg, d.rank)
        for d in station.devices
    }
    cables = sorted(
        (end(c.start), end(c.end), c.length_m, c.wire, c.wire_ohm, c.joints_ohm, repr(c.fuses))
        for c in station.cables
    )
    requirements = sorted(
        (
            type(r).__name__,
            named(getattr(r, "load", None) or getattr(r, "device", None) or ""),
            getattr(r, "limit", None) or getattr(r, "duration_s", None) or 0.0,
        )
        for r in station.requirements
    )
    return {
        "devices": devices,
        "cables": cables,
        "requirements": requirements,
        "never": sorted(tuple(map(named, group)) for group in station.never_together),
        "bonds": sorted((named(b.start), named(b.end), b.place) for b in station.bonds),
        "data": sorted((named(lead.start), named(lead.end)) for lead in station.data_leads),
        "uncertain": sorted(
            (tuple(sorted(map(named, u.devices))), u.parameter, repr(u.low), repr(u.high))
            for u in station.uncertain
        ),
        "site": (station.site.sky, station.site.lasts_s, station.site.air_low_k),
    }


@dataclass
class Both:
    """A station put together in two ways; `flat` holds lines by what they declare."""

    short: list[str] = field(default_factory=list)
    flat: dict[str, str] = field(default_factory=dict)
    way: int = 0

    def put(self, key: str, line: str) -> None:
        """One line of the station written out, with flat names."""
        assert key not in self.flat
        self.flat[key] = line

    def ways(self, count: int) -> tuple[int, int]:
        """So many free ways of the strip: the first and the last."""
        first, self.way = self.way + 1, self.way + count
        return first, self.way

    @property
    def short_text(self) -> str:
        return HEAD + MAIN + "".join(f"{line}\n" for line in self.short)

    @property
    def flat_text(self) -> str:
        return HEAD + MAIN + "".join(f"{line}\n" for line in self.flat.values())


RADIO = "receive 0.3 A; transmit 2 A; transmitting 10 %"


def put_cable(both: Both, start: str, end: str, length: float, fuse: str) -> None:
    """A cable written out; `fuse` is "start" or "end"."""
    start, end = flat_name_of_end(start), flat_name_of_end(end)
    line = f"cable {start} -> {end} {{ length {length!r} m; wire 2.5 mm2; fuse 3 A at {fuse} }}"
    both.put(f"cable {start} -> {end}", line)


def flat_name_of_end(end: str) -> str:
    """`table[1].strip.2` to `table_1__strip.2`: the last word is a terminal if it is one."""
    found = re.fullmatch(r"(.*)\.(in|\d+)", end)
    return flat_name(end) if found is None else f"{flat_name(found[1])}.{found[2]}"


def put_array(both: Both, dice: random.Random, name: str) -> None:
    """Several lamps, or radios, from ways of their own or all from one."""
    count = dice.randint(1, 4)
    radio = dice.random() < 0.5
    watts = dice.randint(1, 9)
    body = RADIO if radio else f"power {watts} W"
    model = "transceiver" if radio else "steady"
    length = dice.choice((1.0, 1.5, 2.25))
    written = dice.choice((str(count), f"count_{name}", f"count_{name} * 2 / 2"))
    if not written.isdigit():
        both.short.append(f"let count_{name} = {count}")
    both.short.append(f"load {name}[{written}] : {model} {{ {body} }}")
    apart = dice.random() < 0.5
    first, last = both.ways(count if apart else 1)
    ways = f"strip.[{first}..{last}]" if apart else f"strip.{first}"
    at, where = dice.choice((("strip", "start"), (name, "end"), ("start", "start")))
    reverse = dice.random() < 0.3
    ends = f"{name}[1..{count}] -> {ways}" if reverse else f"{ways} -> {name}[1..{count}]"
    if reverse:
        where = "start" if at in (name, "start") else "end"
    both.short.append(f"cable {ends} {{ length {length} m; wire 2.5 mm2; fuse 3 A at {at} }}")
    low = dice.randint(1, count)
    high = dice.randint(low, count)
    both.short.append(f"require {name}[{low}..{high}].voltage >= 10 V")
    both.short.append(f"bond {name}[{low}..{high}] to chassis")
    if radio and high > low:
        both.short.append(f"never together {name}[{low}..{high}]")
        members = ", ".join(flat_name(f"{name}[{k}]") for k in range(low, high + 1))
        both.put(f"never {name}", f"never together {members}")
    for k in range(1, count + 1):
        one = f"{name}[{k}]"
        flat = flat_name(one)
        both.put(f"load {flat}", f"load {flat} : {model} {{ {body} }}")
        way = f"strip.{first + k - 1 if apart else first}"
        start, end = (one, way) if reverse else (way, one)
        put_cable(both, start, end, length, where)
        if low <= k <= high:
            both.put(f"require {flat}", f"require {flat}.voltage >= 10 V")
            both.put(f"bond {flat}", f"bond {flat} to chassis")


ASSEMBLIES = f"""assembly pair(watts, many = 2, apart = 1 m) {{
    block strip : strip {{ ways many; rating 9 A }}
    load lamp[many] : steady {{ power watts / many }}
    cable strip.[1..many] -> lamp[1..many] {{ length apart; wire 2.5 mm2; fuse 3 A at lamp }}
    require lamp[1..many] powered throughout
    expose in -> strip.in
}}
assembly table(watts, apart = 2 m) {{
    let twice = watts * 2
    block strip : strip {{ ways 4; rating 9 A }}
    kit desk[2] : pair {{ watts twice; many 3; apart apart / 2 }}
    kit side : pair {{ watts watts }}
    load rig : transceiver {{ {RADIO} }}
    cable strip.[1..2] -> desk[1..2] {{ length apart; wire 2.5 mm2; fuse 3 A at strip }}
    cable strip.3 -> side.in {{ length 3 m; wire 2.5 mm2; fuse 3 A at side }}
    cable rig -> strip.4 {{ length 4 m; wire 2.5 mm2; fuse 3 A at strip }}
    data rig -> desk[1..2].lamp[1..3]
    expose in -> strip.in
}}"""


def put_pair(both: Both, kit: str, watts: float, many: int, apart: float) -> None:
    """A `pair` written out."""
    flat = flat_name(f"{kit}.strip")
    both.put(f"block {flat}", f"block {flat} : strip {{ ways {many}; rating 9 A }}")
    for k in range(1, many + 1):
        lamp = flat_name(f"{kit}.lamp[{k}]")
        both.put(f"load {lamp}", f"load {lamp} : steady {{ power {watts / many!r} W }}")
        put_cable(both, f"{kit}.strip.{k}", f"{kit}.lamp[{k}]", apart, "end")
        both.put(f"require {lamp}", f"require {lamp} powered throughout")


def put_table(both: Both, kit: str, watts: float, apart: float) -> None:
    """A `table` written out, with the kits in it."""
    flat, rig = flat_name(f"{kit}.strip"), flat_name(f"{kit}.rig")
    both.put(f"block {flat}", f"block {flat} : strip {{ ways 4; rating 9 A }}")
    both.put(f"load {rig}", f"load {rig} : transceiver {{ {RADIO} }}")
    for k in (1, 2):
        put_pair(both, f"{kit}.desk[{k}]", watts * 2, 3, apart / 2)
        put_cable(both, f"{kit}.strip.{k}", f"{kit}.desk[{k}].strip.in", apart, "start")
        for lamp in (flat_name(f"{kit}.desk[{k}].lamp[{m}]") for m in (1, 2, 3)):
            both.put(f"data {rig} {lamp}", f"data {rig} -> {lamp}")
    put_pair(both, f"{kit}.side", watts, 2, 1.0)
    put_cable(both, f"{kit}.strip.3", f"{kit}.side.strip.in", 3.0, "end")
    put_cable(both, f"{kit}.rig", f"{kit}.strip.4", 4.0, "end")


def put_kits(both: Both, dice: random.Random, name: str) -> None:
    """One or several kits of one of the assemblies, each with a cable from the strip."""
    watts = float(dice.randint(1, 9))
    apart = dice.choice((0.5, 1.5))
    count = dice.choice((None, 1, 2))
    sort = dice.choice(("pair", "table"))
    bracket = "" if count is None else f"[{count}]"
    body = f"watts {watts} W; apart {apart} m"
    many = dice.choice((2, 3))
    if sort == "pair" and many != 2:
        body += f"; many {many}"
    both.short.append(f"kit {name}{bracket} : {sort} {{ {body} }}")
    first, last = both.ways(count or 1)
    kits = [name] if count is None else [f"{name}[{k}]" for k in range(1, count + 1)]
    end = name if count is None else f"{name}[1..{count}]"
    end += dice.choice(("", ".in"))
    way = f"strip.{first}" if count is None else f"strip.[{first}..{last}]"
    at, where = dice.choice((("strip", "start"), (name, "end")))
    both.short.append(f"cable {way} -> {end} {{ length 1.25 m; wire 2.5 mm2; fuse 3 A at {at} }}")
    for k, kit in enumerate(kits):
        if sort == "pair":
            put_pair(both, kit, watts, many, apart)
        else:
            put_table(both, kit, watts, apart)
        put_cable(both, f"strip.{first + k}", f"{kit}.strip.in", 1.25, where)


def both_ways(dice: random.Random) -> Both:
    """A random station."""
    both = Both([ASSEMBLIES])
    for number in range(dice.randint(1, 3)):
        put_array(both, dice, f"some{number}")
    for number in range(dice.randint(0, 2)):
        put_kits(both, dice, f"kit{number}")
    head, rest = both.short[:1], both.short[1:]
    dice.shuffle(rest)  # the order of statements does not matter
    both.short = rest + head
    return both


@pytest.mark.parametrize("seed", range(TRIES))
def test_arrays_and_kits_mean_what_is_written_out(seed: int) -> None:
    both = both_ways(random.Random(seed))
    short, flat = station_of(both.short_text), station_of(both.flat_text)
    assert seen(short, flat=False) == seen(flat, flat=True)
