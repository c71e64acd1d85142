"""Batteries side by side that do not share alike."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import (
    DeviceView,
    Edit,
    Inquiry,
    Reading,
    Remedy,
    Rule,
    SetLength,
    SetWire,
)
from copperpath_plugins.rules.stores import stores_at

RATIO = 1.2


class UnequalBatteries(Rule):
    """Share of the current of each at the worst instant, by its rated charge; unlike kinds."""

    interface = 1
    name = "unequal-batteries"
    summary = "batteries side by side are of one kind and share the current by their size"
    why = "one does the work and ages; unlike kinds push current into each other"
    limit_from = "common practice"
    source = "shares within 1.2 of each other, one chemistry, joined within 0.1 V"
    levels = ("danger", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        seen: set[str] = set()
        for store in inquiry.devices:
            if store.kind != "storage" or store.name in seen:
                continue
            side = stores_at(inquiry, inquiry.supply_terminal(store.name))
            seen |= {each.name for each in side}
            if len(side) > 1:
                yield from _of(inquiry, side)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        if reading.value is None:
            return Remedy("one kind only, or a diode or a charger between the two")
        side = stores_at(inquiry, inquiry.supply_terminal(reading.subject))
        leads = [cable for each in side for cable in inquiry.cables_at(each.name)]
        lengths = [cable.length_m for cable in leads if cable.length_m is not None]
        otherwise = Remedy("batteries of one make and age on equal leads, or a diode for each")
        if len(leads) != len(side) or len(lengths) != len(leads):
            return otherwise
        thickest = max(leads, key=lambda cable: cable.area_m2 or 0.0)
        edits: list[Edit] = [SetLength(cable.name, max(lengths)) for cable in leads]
        words = f"leads of equal length, {max(lengths):.2g} m each"
        if any(cable.wire != thickest.wire for cable in leads):
            edits += [SetWire(cable.name, thickest.wire) for cable in leads]
            words += f", and all in {thickest.wire}"
        tried = inquiry.edited(*edits)
        shares = [_share(tried, each) for each in side]
        alike = min(shares) > 0.0 and max(shares) <= RATIO * min(shares)
        return Remedy(words, tuple(edits)) if alike else otherwise


def _of(inquiry: Inquiry, side: list[DeviceView]) -> Iterator[Reading]:
    kinds = {each.model.name for each in side}
    names = " and ".join(f"`{each.name}`" for each in side)
    if len(kinds) > 1:
        message = f"{names} are of unlike kinds ({', '.join(sorted(kinds))}) side by side"
        yield Reading(side[0].name, "danger", message)
        return
    shares = [_share(inquiry, each) for each in side]
    if min(shares) <= 0.0:
        return
    ratio = max(shares) / min(shares)
    hard = side[shares.index(max(shares))]
    over = ratio > RATIO + 1e-9
    message = (
        f"of {names}, `{hard.name}` gives {ratio:.2f} times the share of the least; {RATIO} is "
        "allowed"
    )
    yield Reading(side[0].name, "warn" if over else None, message, ratio, RATIO, "times")


def _share(inquiry: Inquiry, store: DeviceView) -> float:
    amps = -inquiry.low.into.get(inquiry.supply_terminal(store.name), 0.0)
    return amps / float(store.values["capacity"])
