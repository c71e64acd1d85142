"""Return current that goes through a bond, coax or rack instead of its wire."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule

BOND_OHM = 0.01
"""A bond through chassis, rack or coax: from memory."""

MOST_A = 1.0


class ReturnThroughBond(Rule):
    """Conductance of the bond beside that of the load's own negative lead."""

    interface = 1
    name = "return-through-bond"
    summary = "no load's return current takes the way of a bond, a rack or a coax shield"
    why = "the coax or the data lead gets hot, and all of it goes there once the negative opens"
    limit_from = "common practice"
    source = "a bond of 10 mohm from memory; 1 A"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for load in inquiry.devices:
            together = bonded_with(inquiry, load.name) if load.kind == "load" else frozenset()
            if not together:
                continue
            feed = inquiry.feed(inquiry.supply_terminal(load.name))
            if feed is None or not feed.cables:
                continue
            others = [
                device.name
                for device in inquiry.devices
                if device.name in together and _same_return(inquiry, device.name, load.name)
            ]
            if not others:
                yield Reading(load.name, None)
                continue
            amps = abs(inquiry.low.amps.get(feed.cables[-1], 0.0))
            shares = {name: _share(inquiry, load.name, name) for name in others}
            worst = max(others, key=shares.__getitem__)
            through = shares[worst] * amps
            over = through > MOST_A
            message = (
                f"bonds join `{load.name}` and `{worst}`: about {through:.1f} A of the "
                f"{amps:.1f} A that `{load.name}` takes return that way, and all of it if its "
                "negative lead opens"
            )
            yield Reading(load.name, "warn" if over else None, message, through, MOST_A, "A")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("one bond point, at the battery's negative; no fuse in negative leads")


def bonded_with(inquiry: Inquiry, name: str) -> frozenset[str]:
    """Devices and places that bonds join to a device, over others too; itself left out."""
    found, waiting = {name}, [name]
    while waiting:
        at = waiting.pop()
        for bond in inquiry.bonds:
            for one, other in ((bond.start, bond.end), (bond.end, bond.start)):
                if one == at and other not in found:
                    found.add(other)
                    waiting.append(other)
    return frozenset(found - {name})


def _share(inquiry: Inquiry, load: str, other: str) -> float:
    """Share of a load's return that goes over the bond and the other's negative lead, beside its
    own; both leads reach to where the two ways part."""
    own, its = (_way(inquiry, name) for name in (load, other))
    common = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(own, its, strict=False)))
    lead = _negative_ohm(inquiry, own[common:])
    return lead / (lead + BOND_OHM + _negative_ohm(inquiry, its[common:]))


def _way(inquiry: Inquiry, name: str) -> tuple[str, ...]:
    """Cables to a load; none to what feeds it."""
    device = inquiry.device(name)
    feed = None
    if device.kind in ("load", "converter"):
        feed = inquiry.feed(inquiry.supply_terminal(name))
    return () if feed is None else feed.cables


def _negative_ohm(inquiry: Inquiry, cables: Sequence[str]) -> float:
    """Half of the wires and joints; fuses sit in the other conductor."""
    found = [inquiry.cable(name) for name in cables]
    return sum(0.5 * (c.wire_ohm + sum(joint.ohm for joint in c.joints)) for c in found)


def _same_return(inquiry: Inquiry, one: str, other: str) -> bool:
    """True if the negatives of two devices meet on the wiring."""
    first = inquiry.supply_terminal(one)
    return inquiry.supply_terminal(other) in inquiry.joined(first)
