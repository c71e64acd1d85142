"""Charging current of all chargers together against what a battery takes."""

from __future__ import annotations

import math
from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.fuse_sizes import SLACK_A
from copperpath_plugins.rules.panel_volts import panel_terminals, panels_at
from copperpath_plugins.rules.stores import LITHIUM, chargers_of, rated_amps

LITHIUM_C = 0.5
LEAD_C = 0.3
BRIGHT = 1.25
FLAT_V = 12.0
"""Light above full sun that a cloud's edge adds (NEC 690.8), and the volts of a flat battery."""


class ChargeTooFast(Rule):
    """Sum of the chargers' limits against the battery's own, or a share of its charge an hour."""

    interface = 1
    name = "charge-too-fast"
    summary = "chargers together push no more into a battery than it takes"
    why = "a battery charged too fast gets hot, ages, or its board opens and leaves the loads bare"
    limit_from = "the file"
    source = "the battery's limit; else half its charge an hour (lithium), 0.3 (lead), from memory"
    levels = ("fail",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for store in inquiry.devices:
            if store.kind != "storage" or "capacity" not in store.values:
                continue
            side = _side_by_side(inquiry, store)
            pushed = sum(most_output(inquiry, each) for each, _ in chargers_of(inquiry, store))
            if pushed <= 0.0 or store.name != side[0].name:
                continue
            limit = sum(_takes(each) for each in side)
            names = " and ".join(f"`{each.name}`" for each in side)
            over = pushed > limit + SLACK_A
            message = f"chargers push up to {pushed:.1f} A into {names}, which take {limit:.1f} A"
            if len(side) == 1:
                message = message.replace("which take ", "which takes ")
            yield Reading(store.name, "fail" if over else None, message, pushed, limit, "A")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        chargers = chargers_of(inquiry, inquiry.device(reading.subject))
        limit = reading.limit or 0.0
        largest = max(chargers, key=lambda each: float(each[0].values.get("output_limit", 0.0)))[0]
        own = most_output(inquiry, largest)
        others = (reading.value or 0.0) - own
        if limit - others < 0.5:
            return Remedy("one charger at a time, or a larger battery")
        lower = math.floor(2.0 * (limit - others)) / 2.0
        edit = SetValue(largest.name, "output_limit", lower)
        return Remedy(f"`{largest.name}` limited to {lower:g} A", (edit,))


def most_output(inquiry: Inquiry, charger: DeviceView) -> float:
    """The most that a charger pushes: its limit, or what its panels give if that is less [A]."""
    limit = float(charger.values.get("output_limit", 0.0))
    terminals = panel_terminals(inquiry, charger) if charger.kind == "converter" else []
    if not terminals:
        return limit
    given = sum(
        float(p.values["power"]) * float(p.values["series"]) * float(p.values["parallel"])
        for p in panels_at(inquiry, terminals[0])
    )
    return min(limit, BRIGHT * given / FLAT_V)


def _side_by_side(inquiry: Inquiry, store: DeviceView) -> list[DeviceView]:
    joined = inquiry.joined(inquiry.supply_terminal(store.name))
    return [
        device
        for device in inquiry.devices
        if device.kind == "storage" and inquiry.supply_terminal(device.name) in joined
    ]


def _takes(store: DeviceView) -> float:
    own = float(store.values.get("charge_limit", math.nan))
    if math.isfinite(own):
        return own
    return rated_amps(store) * (LITHIUM_C if store.model.name in LITHIUM else LEAD_C)
